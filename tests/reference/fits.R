# Fits of the library against R: nls with vcov, logLik, AIC, BIC and confint (profile), survreg with survivors, rlm.
#   Rscript fits.R PATH/TO/hairfibre
# Cases go as a Lua table, answers come as CSV: case,name,value. Ends with `N passed, N failed`.
suppressPackageStartupMessages({
  library(MASS)
  library(survival)
})
program <- commandArgs(trailingOnly = TRUE)[1]
here <- dirname(sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE)))
folder <- tempfile("fits")
dir.create(folder)
set.seed(11)

# ---- cases ----

lua_list <- function(x) paste0("{", paste(format(x, digits = 17, trim = TRUE, scientific = TRUE), collapse = ","), "}")
lua_flags <- function(x) paste0("{", paste(ifelse(x, "true", "false"), collapse = ","), "}")

# Wood-type sorption (docs of the package PUPMSI), and R's own Puromycin and DNase data.
activity <- c(0.1145, 0.2274, 0.3265, 0.4291, 0.6342, 0.7385, 0.8274, 0.9573)
wetting <- c(0.0234, 0.0366, 0.0496, 0.0648, 0.0887, 0.1096, 0.1343, 0.1938)
drying <- c(0.0459, 0.0637, 0.0794, 0.0884, 0.1158, 0.1298, 0.1500, 0.1938)
puro <- subset(Puromycin, state == "treated")
dnase <- subset(DNase, Run == 1)

gab <- y ~ wm * c * k * x / ((1 - k * x) * (1 + (c - 1) * k * x))
fits <- list(
  gab_wetting = list(model = "gab", formula = gab, x = activity, y = wetting,
                     start = list(wm = 0.05, c = 7, k = 0.78), names = c("monolayer", "c", "k")),
  gab_drying = list(model = "gab", formula = gab, x = activity, y = drying,
                    start = list(wm = 0.07, c = 20, k = 0.67), names = c("monolayer", "c", "k")),
  puromycin = list(model = "michaelis", formula = y ~ top * x / (half + x), x = puro$conc, y = puro$rate,
                   start = list(top = 200, half = 0.05), names = c("top", "half")),
  dnase = list(model = "logistic", formula = y ~ top / (1 + exp((middle - log(x)) / width)), x = dnase$conc,
               y = dnase$density, start = list(top = 3, middle = 1, width = 1), names = c("top", "middle", "width")))
weighted <- list(x = activity, y = wetting, sigma = 0.001 + 0.02 * wetting)

lives <- lapply(1:60, function(i) {
  n <- sample(4:40, 1)
  shape <- runif(1, 0.5, 5)
  life <- signif(rweibull(n, shape, exp(runif(1, 2, 12))), 6)
  limit <- max(life) * runif(1, 0.4, 1.1)
  list(life = pmin(life, signif(limit, 6)), broke = life <= signif(limit, 6))
})
lives <- Filter(function(one) length(unique(one$life[one$broke])) >= 2, lives)
lines <- lapply(1:30, function(i) {
  stress <- rep(c(80, 95, 110, 125), each = sample(4:12, 1)) * 1e6
  life <- signif(rweibull(length(stress), runif(1, 0.6, 2), exp(10 - runif(1, 6, 12) * log(stress / 1e8))), 6)
  limit <- quantile(life, 0.85, names = FALSE)
  list(stress = stress, life = pmin(life, signif(limit, 6)), broke = life <= signif(limit, 6))
})
robust <- lapply(1:20, function(i) {
  x <- 1:25
  y <- 2 + 0.5 * x + rnorm(25, 0, 0.3)
  y[sample(25, 2)] <- y[sample(25, 2)] + 10
  list(x = x, y = signif(y, 8))
})

entry <- function(kind, name, fields) paste0('  { kind = "', kind, '", name = "', name, '", ', fields, ' },')
text <- c("return {")
for (name in names(fits)) {
  f <- fits[[name]]
  text <- c(text, entry("nls", name, paste0('model = "', f$model, '", x = ', lua_list(f$x), ', y = ', lua_list(f$y),
    ', start = ', lua_list(unlist(f$start)), ', names = {"', paste(f$names, collapse = '","'), '"}')))
}
for (kind in c("relative", "absolute"))
  text <- c(text, entry("weighted", kind, paste0("x = ", lua_list(weighted$x), ", y = ", lua_list(weighted$y), ", sigma = ",
    lua_list(weighted$sigma))))
for (i in seq_along(lives))
  text <- c(text, entry("life", paste0("life", i), paste0("y = ", lua_list(lives[[i]]$life), ", survived = ",
    lua_flags(!lives[[i]]$broke))))
for (i in seq_along(lines))
  text <- c(text, entry("line", paste0("line", i), paste0("x = ", lua_list(lines[[i]]$stress), ", y = ",
    lua_list(lines[[i]]$life), ", survived = ", lua_flags(!lines[[i]]$broke))))
for (i in seq_along(robust))
  text <- c(text, entry("robust", paste0("robust", i), paste0("x = ", lua_list(robust[[i]]$x), ", y = ",
    lua_list(robust[[i]]$y))))
writeLines(c(text, "}"), file.path(folder, "cases.lua"))
status <- system2(program, c("run", "--trust", "--seconds", "600", file.path(here, "fits.lua"),
                             file.path(folder, "cases.lua"), file.path(folder, "out.csv")))
if (status != 0) stop("the program failed")
out <- read.csv(file.path(folder, "out.csv"), stringsAsFactors = FALSE)

# ---- comparison ----

passed <- 0
failed <- 0
check <- function(case, name, want, relative, absolute = 0) {
  have <- out$value[out$case == case & out$name == name]
  good <- length(have) == 1 && is.finite(have) && abs(have - want) <= absolute + relative * abs(want)
  if (good) passed <<- passed + 1
  else {
    failed <<- failed + 1
    if (failed <= 20) cat(sprintf("%s, %s: got %.12g, R has %.12g\n", case, name, if (length(have)) have else NA, want))
  }
}

tight <- nls.control(tol = 1e-7, maxiter = 200, minFactor = 1e-9)
for (name in names(fits)) {
  f <- fits[[name]]
  data <- list(x = f$x, y = f$y)
  fit <- nls(f$formula, data = data, start = f$start, control = tight)
  se <- sqrt(diag(vcov(fit)))
  r <- cov2cor(vcov(fit))
  for (j in seq_along(f$names)) {
    check(name, f$names[j], coef(fit)[j], 1e-7)
    check(name, paste0("se_", f$names[j]), se[j], 1e-6) # nls takes derivatives from deriv()
    for (i in seq_len(j - 1)) check(name, paste0("r_", i, "_", j), r[i, j], 1e-6)
  }
  check(name, "rss", deviance(fit), 1e-10)
  check(name, "log_likelihood", as.numeric(logLik(fit)), 1e-10)
  check(name, "aic", AIC(fit), 1e-10)
  check(name, "bic", BIC(fit), 1e-10)
  # confint draws a spline through some ten points of the profile, each re-fitted to its own tolerance: good to
  # about a five-hundredth of the half width.
  limits <- suppressMessages(confint(fit, level = 0.95))
  for (j in seq_along(f$names)) {
    half <- (limits[j, 2] - limits[j, 1]) / 2
    check(name, paste0("low_", f$names[j]), limits[j, 1], 0, 0.003 * half)
    check(name, paste0("high_", f$names[j]), limits[j, 2], 0, 0.003 * half)
  }
}

w <- 1 / weighted$sigma^2
fit <- nls(gab, data = list(x = weighted$x, y = weighted$y), start = list(wm = 0.05, c = 7, k = 0.78), weights = w,
           control = tight)
unscaled <- vcov(fit) / summary(fit)$sigma^2
for (j in 1:3) {
  parameter <- c("monolayer", "c", "k")[j]
  check("relative", parameter, coef(fit)[j], 1e-7)
  check("absolute", parameter, coef(fit)[j], 1e-7)
  check("relative", paste0("se_", parameter), sqrt(diag(vcov(fit)))[j], 1e-6)
  check("absolute", paste0("se_", parameter), sqrt(diag(unscaled))[j], 1e-6)
}
check("relative", "log_likelihood", as.numeric(logLik(fit)), 1e-10)
check("relative", "aic", AIC(fit), 1e-10)
check("absolute", "log_likelihood", sum(dnorm(weighted$y, predict(fit), weighted$sigma, log = TRUE)), 1e-10)

exact <- survreg.control(maxiter = 200, rel.tolerance = 1e-13)
for (i in seq_along(lives)) {
  one <- lives[[i]]
  name <- paste0("life", i)
  fit <- survreg(Surv(one$life, one$broke) ~ 1, dist = "weibull", control = exact)
  scale <- exp(coef(fit)[[1]])
  shape <- 1 / fit$scale
  v <- vcov(fit) # of the intercept and ln(scale of survreg)
  check(name, "scale", scale, 1e-6)
  check(name, "shape", shape, 1e-6)
  check(name, "se_scale", scale * sqrt(v[1, 1]), 1e-5)
  check(name, "se_shape", shape * sqrt(v[2, 2]), 1e-5)
  check(name, "log_likelihood", fit$loglik[1], 1e-9)
}
for (i in seq_along(lines)) {
  one <- lines[[i]]
  name <- paste0("line", i)
  fit <- survreg(Surv(one$life, one$broke) ~ log(one$stress / 1e8), dist = "weibull", control = exact)
  v <- vcov(fit)
  check(name, "intercept", coef(fit)[[1]], 1e-6)
  check(name, "slope", -coef(fit)[[2]], 1e-6)
  check(name, "shape", 1 / fit$scale, 1e-6)
  check(name, "se_intercept", sqrt(v[1, 1]), 1e-5)
  check(name, "se_slope", sqrt(v[2, 2]), 1e-5)
  check(name, "log_likelihood", fit$loglik[2], 1e-9)
}
for (i in seq_along(robust)) {
  one <- robust[[i]]
  name <- paste0("robust", i)
  fit <- rlm(y ~ x, data = one, k = 1.345, maxit = 500, acc = 1e-10)
  # rlm stops by the change of residuals and takes its scale one step behind: 1e-5
  check(name, "b1", coef(fit)[[1]], 0, 1e-5)
  check(name, "b2", coef(fit)[[2]], 0, 1e-5)
}
cat(sprintf("%d passed, %d failed\n", passed, failed))
quit(status = as.integer(failed > 0))
