# Statistics of the library against R on 500 random cases: Rscript statistics.R PATH/TO/hairfibre
# Cases and answers go through plain CSV files. Ends with `N passed, N failed`.
program <- commandArgs(trailingOnly = TRUE)[1]
here <- dirname(sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE)))
set.seed(20)
count <- 500
folder <- tempfile("statistics")
dir.create(folder)

numbers <- function(x) paste(format(x, digits = 17, trim = TRUE, scientific = FALSE), collapse = " ")
random_case <- function(i) {
  n <- sample(1:60, 1)
  pairs <- sample(2:10, 1)
  digits <- sample(c(0, 0, 6), 1)            # many ties, or none
  before <- round(rnorm(pairs, 70, 3), digits)
  list(events = sample(0:n, 1), strands = n, against = round(runif(1, 0.02, 0.98), 3),
       level = sample(c(0.8, 0.9, 0.95, 0.99), 1),
       table = sample(0:15, 4, replace = TRUE), strata = sample(0:6, 12, replace = TRUE),
       before = before, after = round(before + rnorm(pairs, 1, 2), digits),
       second = round(rnorm(sample(2:6, 1), 70, 3), digits),
       m = sample(2:40, 1), share = round(runif(1, 0.02, 0.98), 3), other = round(runif(1, 0.02, 0.98), 3),
       difference = round(runif(1, 0.2, 2.5), 3), freedom = round(exp(runif(1, 0, 6)), 3))
}
cases <- lapply(1:count, random_case)
lines <- vapply(cases, function(k) paste(vapply(k, numbers, ""), collapse = ","), "")
writeLines(c(paste(names(cases[[1]]), collapse = ","), lines), file.path(folder, "in.csv"))
status <- system2(program, c("run", "--trust", file.path(here, "statistics.lua"), file.path(folder, "in.csv"),
                             file.path(folder, "out.csv")))
if (status != 0) stop("the program failed")
got <- read.csv(file.path(folder, "out.csv"), check.names = FALSE)
stopifnot(nrow(got) == count)

passed <- 0
failed <- 0
check <- function(i, name, want, relative, absolute = 1e-12) {
  have <- got[i, name]
  good <- if (is.na(want)) is.na(have) else
    !is.na(have) && (have == want || abs(have - want) <= absolute + relative * abs(want))
  if (good) passed <<- passed + 1
  else {
    failed <<- failed + 1
    if (failed <= 20) cat(sprintf("case %d, %s: got %.12g, R has %.12g\n", i, name, have, want))
  }
}

# R looks for odds ratios, or for their reciprocals above 1, on a scale from 0 to 1, and stops within 1.2e-4.
check_bounded <- function(i, name, want) {
  got[i, name] <<- if (want > 1) 1 / got[i, name] else got[i, name]
  check(i, name, if (want > 1) 1 / want else want, 0, 2e-4)
}

# Exact distributions of ranks with ties, by writing out every sign and every split.
signed_tails <- function(d) {
  d <- d[d != 0]
  if (length(d) == 0) return(c(0, 1, 1))
  r <- rank(round(abs(d), 9))
  v <- sum(r[d > 0])
  all <- as.vector(as.matrix(expand.grid(rep(list(0:1), length(d)))) %*% r)
  c(v, mean(all <= v + 1e-9), mean(all >= v - 1e-9))
}
sum_tails <- function(x, y) {
  r <- rank(round(c(x, y), 9))
  w <- sum(r[seq_along(x)])
  all <- combn(length(r), length(x), function(k) sum(r[k]))
  c(w - length(x) * (length(x) + 1) / 2, mean(all <= w + 1e-9), mean(all >= w - 1e-9))
}
# Within strata: the sums of both strata, every split of the one with every split of the other.
strata_tails <- function(x1, y1, x2, y2) {
  one <- sum_ways(x1, y1)
  two <- sum_ways(x2, y2)
  all <- outer(one$sums, two$sums, "+")
  weight <- outer(one$ways, two$ways)
  w <- one$seen + two$seen
  c(w, sum(weight[all <= w + 1e-9]) / sum(weight), sum(weight[all >= w - 1e-9]) / sum(weight))
}
sum_ways <- function(x, y) {
  r <- rank(round(c(x, y), 9))
  least <- length(x) * (length(x) + 1) / 2
  t <- table(combn(length(r), length(x), function(k) sum(r[k])) - least)
  list(sums = as.numeric(names(t)), ways = as.vector(t), seen = sum(r[seq_along(x)]) - least)
}
smaller_twice <- function(a, b) min(1, 2 * min(a, b))

mid_p <- function(x, n, level) {
  tail <- (1 - level) / 2
  upper <- function(p) pbinom(x, n, p, lower.tail = FALSE) + dbinom(x, n, p) / 2 - tail
  lower <- function(p) pbinom(x - 1, n, p) + dbinom(x, n, p) / 2 - tail
  c(if (x == 0) 0 else uniroot(upper, c(0, 1), tol = 1e-13)$root,
    if (x == n) 1 else uniroot(lower, c(0, 1), tol = 1e-13)$root)
}

for (i in 1:count) {
  k <- cases[[i]]
  x <- k$events
  n <- k$strands
  b <- binom.test(x, n, k$against, conf.level = k$level)
  check(i, "clopper-pearson_low", b$conf.int[1], 1e-9)
  check(i, "clopper-pearson_high", b$conf.int[2], 1e-9)
  check(i, "binomial_two_sided", b$p.value, 1e-9)
  check(i, "binomial_less", pbinom(x, n, k$against), 1e-9)
  check(i, "binomial_greater", pbinom(x - 1, n, k$against, lower.tail = FALSE), 1e-9)
  score <- suppressWarnings(prop.test(x, n, conf.level = k$level, correct = FALSE))$conf.int
  check(i, "wilson_low", score[1], 1e-9)
  check(i, "wilson_high", score[2], 1e-9)
  half <- mid_p(x, n, k$level)
  check(i, "mid-p_low", half[1], 1e-8, 1e-10)
  check(i, "mid-p_high", half[2], 1e-8, 1e-10)
  tail <- (1 - k$level) / 2
  check(i, "jeffreys_low", if (x == 0) 0 else qbeta(tail, x + 0.5, n - x + 0.5), 1e-8)
  check(i, "jeffreys_high", if (x == n) 1 else qbeta(1 - tail, x + 0.5, n - x + 0.5), 1e-8)
  check(i, "posterior_low", qbeta(tail, x + 0.5, n - x + 0.5), 1e-8)
  check(i, "posterior_median", qbeta(0.5, x + 0.5, n - x + 0.5), 1e-8)
  check(i, "posterior_high", qbeta(1 - tail, x + 0.5, n - x + 0.5), 1e-8)

  t <- matrix(k$table, 2, byrow = TRUE)
  f <- fisher.test(t)
  inside <- all(rowSums(t) > 0) && all(colSums(t) > 0)
  check(i, "fisher_two_sided", f$p.value, 1e-9)
  check(i, "fisher_less", fisher.test(t, alternative = "less")$p.value, 1e-9)
  check(i, "fisher_greater", fisher.test(t, alternative = "greater")$p.value, 1e-9)
  if (inside) {
    check_bounded(i, "fisher_odds_ratio", unname(f$estimate))
    check_bounded(i, "fisher_low", f$conf.int[1])
    check_bounded(i, "fisher_high", f$conf.int[2])
  } else check(i, "fisher_odds_ratio", NA, 0)

  gained <- k$table[1]
  lost <- k$table[3]
  exact <- if (gained + lost == 0) 1 else binom.test(gained, gained + lost)$p.value
  check(i, "mcnemar_exact", exact, 1e-9)
  if (gained + lost > 0) {
    pairs <- matrix(c(5, gained, lost, 7), 2)
    plain <- mcnemar.test(pairs, correct = FALSE)
    corrected <- mcnemar.test(pairs)
    check(i, "mcnemar_chi_squared", unname(plain$statistic), 1e-12)
    check(i, "mcnemar_p", plain$p.value, 1e-9)
    check(i, "mcnemar_corrected", unname(corrected$statistic), 1e-12)
    check(i, "mcnemar_p_corrected", corrected$p.value, 1e-9)
  }

  strata <- aperm(array(k$strata, c(2, 2, 3)), c(2, 1, 3))
  usable <- all(apply(strata, 3, sum) > 1) &&
    sum(apply(strata, 3, function(s) prod(rowSums(s), colSums(s)))) > 0
  if (usable) {
    plain <- mantelhaen.test(strata, correct = FALSE)
    corrected <- mantelhaen.test(strata)
    check(i, "strata_chi_squared", unname(plain$statistic), 1e-9)
    check(i, "strata_p", plain$p.value, 1e-9)
    apart <- sum(apply(strata, 3, function(s) s[1, 1] - sum(s[1, ]) * sum(s[, 1]) / sum(s)))
    small <- abs(apart) < 0.5 # R then leaves the correction out; the library takes the difference for none
    check(i, "strata_corrected", if (small) 0 else unname(corrected$statistic), 1e-9)
    check(i, "strata_p_corrected", if (small) 1 else corrected$p.value, 1e-9)
    ratio <- unname(plain$estimate)
    if (is.finite(ratio) && ratio > 0) {
      check(i, "strata_odds_ratio", ratio, 1e-9)
      check(i, "strata_low", plain$conf.int[1], 1e-9)
      check(i, "strata_high", plain$conf.int[2], 1e-9)
    }
    whole <- function(which) mantelhaen.test(strata, exact = TRUE, alternative = which)$p.value
    check(i, "strata_less", whole("less"), 1e-9)
    check(i, "strata_greater", whole("greater"), 1e-9)
    check(i, "strata_two_sided", whole("two.sided"), 1e-9)
  }

  d <- k$after - k$before
  s <- signed_tails(d)
  check(i, "signed_statistic", s[1], 1e-12)
  check(i, "signed_less", s[2], 1e-12)
  check(i, "signed_greater", s[3], 1e-12)
  check(i, "signed_two_sided", smaller_twice(s[2], s[3]), 1e-12)
  if (!any(d == 0) && !any(duplicated(round(abs(d), 9)))) {
    w <- wilcox.test(k$after, k$before, paired = TRUE, exact = TRUE)
    check(i, "signed_two_sided", w$p.value, 1e-12)
    check(i, "signed_statistic", unname(w$statistic), 1e-12)
  }
  s <- sum_tails(k$after, k$second)
  check(i, "sum_statistic", s[1], 1e-12)
  check(i, "sum_less", s[2], 1e-12)
  check(i, "sum_greater", s[3], 1e-12)
  if (!any(duplicated(c(k$after, k$second)))) {
    w <- wilcox.test(k$after, k$second, exact = TRUE)
    check(i, "sum_two_sided", w$p.value, 1e-12)
    check(i, "sum_statistic", unname(w$statistic), 1e-12)
  }

  s <- strata_tails(k$after, k$second, k$second, k$before)
  check(i, "strata_ranks_statistic", s[1], 1e-12)
  check(i, "strata_ranks_less", s[2], 1e-10)
  check(i, "strata_ranks_greater", s[3], 1e-10)
  check(i, "strata_ranks_two_sided", smaller_twice(s[2], s[3]), 1e-10)

  if (length(unique(round(d, 9))) > 1) {
    w <- t.test(k$after, k$before, paired = TRUE)
    check(i, "paired_t", unname(w$statistic), 1e-9)
    check(i, "paired_low", w$conf.int[1], 1e-8, 1e-9)
    check(i, "paired_high", w$conf.int[2], 1e-8, 1e-9)
    check(i, "paired_two_sided", w$p.value, 1e-8)
    check(i, "paired_less", t.test(k$after, k$before, paired = TRUE, alternative = "less")$p.value, 1e-8)
  } else check(i, "paired_t", NA, 0)
  if (length(unique(k$after)) + length(unique(k$second)) > 2) {
    w <- t.test(k$after, k$second)
    check(i, "welch_t", unname(w$statistic), 1e-9)
    check(i, "welch_freedom", unname(w$parameter), 1e-9)
    check(i, "welch_low", w$conf.int[1], 1e-8, 1e-9)
    check(i, "welch_high", w$conf.int[2], 1e-8, 1e-9)
    check(i, "welch_two_sided", w$p.value, 1e-8)
  } else check(i, "welch_t", NA, 0)

  reject <- vapply(0:k$m, function(e) binom.test(e, k$m, k$other)$p.value <= 0.05, TRUE)
  check(i, "power_share", sum(dbinom(0:k$m, k$m, k$share)[reject]), 1e-9, 1e-12)
  check(i, "power_formula", power.prop.test(n = k$m, p1 = k$share, p2 = k$other)$power, 1e-9)
  if (k$m <= 8) {
    sum <- 0
    for (a in 0:k$m) for (c in 0:(k$m + 1))
      if (fisher.test(matrix(c(a, c, k$m - a, k$m + 1 - c), 2), conf.int = FALSE)$p.value <= 0.05)
        sum <- sum + dbinom(a, k$m, k$share) * dbinom(c, k$m + 1, k$other)
    check(i, "power_fisher", sum, 1e-9)
  }
  g <- k$share / 2
  l <- k$other / 2
  sum <- 0
  for (changes in 1:k$m) {
    e <- 0:changes
    p <- pmin(1, 2 * pbinom(pmin(e, changes - e), changes, 0.5))
    sum <- sum + dbinom(changes, k$m, g + l) * sum(dbinom(e, changes, g / (g + l))[p <= 0.05])
  }
  check(i, "power_pairs", sum, 1e-9)
  check(i, "power_t", power.t.test(n = k$m, delta = k$difference, strict = TRUE)$power, 1e-7, 1e-9)
  check(i, "power_paired_t", power.t.test(n = k$m, delta = k$difference, type = "paired", strict = TRUE)$power, 1e-7, 1e-9)
  check(i, "quantile", qt(k$against, k$freedom), 1e-9, 1e-11)
  if (!is.na(got[i, "strands_formula"]))
    check(i, "strands_formula", tryCatch(power.prop.test(p1 = k$share, p2 = k$other, power = 0.8, tol = 1e-11)$n,
                                         error = function(e) got[i, "strands_formula"]), 1e-6)
  wanted <- tryCatch(power.t.test(delta = k$difference, power = 0.8, strict = TRUE, tol = 1e-11)$n,
                     error = function(e) 2) # R finds none when two strands are enough
  check(i, "strands_t", wanted, 1e-6)
  adjusted <- p.adjust(c(k$share, k$other, k$against, k$level), "holm")
  for (j in 1:4) check(i, paste0("holm_", j), adjusted[j], 1e-12)
}
cat(sprintf("%d passed, %d failed\n", passed, failed))
quit(status = if (failed > 0) 1 else 0)
