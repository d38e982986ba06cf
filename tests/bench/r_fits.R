# R's nls and survreg on what bench_fit fits: rows name,value,unit,target. Processor time, best of several rounds.
took <- function(f, times = 5, rounds = 7) {
  best <- Inf
  for (round in seq_len(rounds)) {
    best <- min(best, system.time(for (k in seq_len(times)) f())[["user.self"]] / times)
  }
  1e3 * best
}
row <- function(name, value, unit, digits = 4) {
  cat(name, ",", trimws(formatC(value, digits = digits, format = "g")), ",", unit, ",\n", sep = "")
}

i <- 0:19
a <- 0.04 + 0.045 * i
w <- 0.7128 * a / ((1 - 0.72 * a) * (1 + 7.2 * a)) + 0.001 * (i * 7) %% 5 - 0.002
gab <- function() nls(w ~ m * c * k * a / ((1 - k * a) * (1 + (c - 1) * k * a)), start = list(m = 0.08, c = 8, k = 0.8))
row("fit: GAB on 20 points by R nls", took(gab, 50), "ms")
row("fit: GAB on 20 points by R nls: RSS", sum(resid(gab())^2), "1", 12)

# Certified sets, to the last digits that it gives.
text <- paste(readLines("tests/reference/strd_data.h"), collapse = " ")
numbers <- function(text) as.numeric(strsplit(gsub("[{} ]", "", text), ",")[[1]])
array_of <- function(name) {
  numbers(regmatches(text, regexec(sprintf("static const double %s\\[\\] = \\{([^}]*)\\}", name), text))[[1]][2])
}
cubic <- y ~ (b1 + x * (b2 + x * (b3 + x * b4))) / (1 + x * (b5 + x * (b6 + x * b7)))
models <- list(Hahn1 = cubic, Thurber = cubic, MGH09 = y ~ b1 * (x * x + x * b2) / (x * x + x * b3 + b4))
for (name in names(models)) {
  found <- regmatches(text, regexec(sprintf('\\{"%s",[^{]*\\{\\{([^}]*)\\},\\s*\\{([^}]*)\\}\\},\\s*\\{([^}]*)\\}', name), text))[[1]]
  start <- numbers(found[3])
  certified <- numbers(found[4])
  names(start) <- paste0("b", seq_along(start))
  data <- data.frame(x = array_of(paste0(tolower(name), "_x")), y = array_of(paste0(tolower(name), "_y")))
  answer <- NULL
  for (tolerance in c(1e-7, 1e-6, 1e-5)) {
    fit <- function() nls(models[[name]], data, start = as.list(start), control = nls.control(maxiter = 500, tol = tolerance))
    answer <- tryCatch(fit(), error = function(e) NULL)
    if (!is.null(answer)) break
  }
  if (is.null(answer)) {
    message(name, ": nls found nothing")
    next
  }
  off <- max(abs(coef(answer) / certified - 1))
  row(sprintf("fit: certified set %s by R nls", name), took(fit), "ms")
  row(sprintf("fit: certified set %s by R nls: digits", name), min(11, -log10(off)), "digits", 2)
}

if (requireNamespace("survival", quietly = TRUE)) {
  library(survival)
  u <- (0:199 + 0.5) / 200
  life <- 1000 * (-log1p(-pmin(u, 0.75)))^(1 / 1.5)
  broke <- as.integer(u < 0.75)
  weibull <- function() survreg(Surv(life, broke) ~ 1, dist = "weibull")
  row("fit: Weibull lives (200) by R survreg (no profiles)", took(weibull, 50), "ms")
  row("fit: Weibull lives (200) by R survreg: log-likelihood", weibull()$loglik[2], "1", 12)
} else {
  message("R's survival is not installed: its rows are left out")
}

status <- tryCatch(readLines("/proc/self/status"), error = function(e) character())
peak <- grep("^VmHWM", status, value = TRUE)
if (length(peak)) row("fit: peak memory of R", as.numeric(gsub("[^0-9]", "", peak)) / 1000, "MB", 3)
