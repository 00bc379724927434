# R 4.2.2; survival 3.5-3, MASS 7.3-58.2, statmod 1.5.0, spc 0.6.7, lme4 1.1-31, jsonlite.
# Rscript estimators.R           works out every figure again; ends with 1 where one differs.
# Rscript estimators.R weibull   prints the answers of ../figures/oracle/weibull.json as JSON.
library(jsonlite)
casesOf <- function(name)
  fromJSON(sprintf("../figures/oracle/%s.json", name), simplifyDataFrame = FALSE)$cases

answers <- list(
  weibull = function(case) {
    if (sum(case$failed) < 2) return(NULL)
    fit <- survival::survreg(survival::Surv(case$miles, case$failed) ~ 1, dist = "weibull")
    b10 <- predict(fit, newdata = data.frame(1), type = "uquantile", p = .1, se.fit = TRUE)
    list(shape = 1 / fit$scale, scale = exp(coef(fit)), loglik = fit$loglik[1],
         cov_intercept_logsigma = vcov(fit), B10 = exp(b10$fit[1]), se_log_B10 = b10$se.fit[1])
  },
  kaplan_meier = function(case) {
    fit <- function(type) survival::survfit(
      survival::Surv(case$miles, case$failed) ~ 1, conf.type = type)
    loglog <- fit("log-log")
    list(time = loglog$time, n_risk = loglog$n.risk, n_event = loglog$n.event,
         surv = loglog$surv, greenwood_se_surv = loglog$surv * loglog$std.err,
         loglog_lo95 = loglog$lower, loglog_hi95 = loglog$upper,
         log_lo95 = fit("log")$lower, log_hi95 = fit("log")$upper)
  },
  mann_kendall = function(case) {
    n <- length(case$y)
    s <- sum(sign(outer(case$y, case$y, "-"))[lower.tri(diag(n))])
    ties <- table(case$y)
    variance <- (n * (n - 1) * (2 * n + 5) - sum(ties * (ties - 1) * (2 * ties + 5))) / 18
    list(S = s, varS = variance, z = if (s == 0) 0 else (s - sign(s)) / sqrt(variance),
         test = suppressWarnings(
           cor.test(seq_len(n), case$y, method = "kendall", exact = FALSE, continuity = TRUE)$p.value))
  },
  regression = function(case) {
    t <- case$t_days / 365.25
    huber <- MASS::rlm(case$y ~ t, psi = MASS::psi.huber, k = 1.345)
    list(ols = summary(lm(case$y ~ t))$coefficients, huber = coef(huber), s = huber$s)
  },
  nls_recovery = function(case) {
    start <- list(a = case$true$a, b = case$true$b, tau = case$true$tau)
    coef(nls(y ~ a - b * exp(-t / tau), data = case[c("t", "y")], start = start))
  },
  quantiles = function(case) {
    at <- if (is.null(case$p)) case$x else case$p
    if (is.null(case$df)) do.call(case$fn, list(at)) else do.call(case$fn, list(at, case$df))
  },
  inverse_gaussian = function(case) list(
    cdf = statmod::pinvgauss(case$x, case$mean, case$shape),
    sf = statmod::pinvgauss(case$x, case$mean, case$shape, lower.tail = FALSE),
    pdf = statmod::dinvgauss(case$x, case$mean, case$shape),
    quantile = statmod::qinvgauss(case$p, case$mean, case$shape)),
  arl = function(case) {
    if (!is.null(case$solve_for)) return(spc::xcusum.crit(case$k, case$arl0))
    if (case$chart == "cusum")
      sapply(c(0, .5, 1, 2), function(mu) spc::xcusum.arl(case$k, case$h, mu))
    else sapply(c(0, 1), function(mu)
      spc::xewma.arl(case$lambda, case$c, mu, zr = 0, sided = case$sided, limits = "fix"))
  },
  age_replacement = function(case) {
    cost <- function(age) {
      survival <- exp(-(age / case$scale)^case$shape)
      life <- integrate(function(t) exp(-(t / case$scale)^case$shape), 0, age, rel.tol = 1e-12)$value
      (case$cost_ratio * (1 - survival) + survival) / life
    }
    optimize(cost, c(1e3, 3.8e5), tol = 1e-8)
  },
  mixed_model = function(case) {
    frame <- data.frame(y = case$y, t = case$t, unit = factor(case$unit))
    fit <- function(formula) lme4::lmer(formula, frame, REML = TRUE)
    lapply(list(uncorrelated = y ~ t + (t || unit), correlated = y ~ t + (t | unit)), function(f)
      list(fixef = lme4::fixef(fit(f)), sigma = sigma(fit(f)),
           reml = lme4::REMLcrit(fit(f)), slope = lme4::ranef(fit(f))$unit[["t"]]))
  }
)

# The kept figures in the order of the answer; null where R has no number.
kept <- list(
  weibull = function(case) case[c("shape", "scale", "loglik", "cov_intercept_logsigma", "B10",
                                  "se_log_B10")],
  kaplan_meier = function(case) case[c("time", "n_risk", "n_event", "surv", "greenwood_se_surv",
                                       "loglog_lo95", "loglog_hi95", "log_lo95", "log_hi95")],
  mann_kendall = function(case) case[c("S", "varS", "z_continuity", "cor_test_p")],
  regression = function(case)
    list(do.call(cbind, lapply(case$ols[c("coef", "se", "t", "p")], unlist)), case$huber),
  nls_recovery = function(case) case$fit[c("a", "b", "tau")],
  quantiles = function(case) case$value,
  inverse_gaussian = function(case) case[c("cdf", "sf", "pdf", "quantile")],
  arl = function(case)
    if (!is.null(case$solve_for)) case$h
    else case[paste0("arl", c("0", if (case$chart == "cusum") "_shift0.5", "_shift1",
                              if (case$chart == "cusum") "_shift2"))],
  age_replacement = function(case) if (!is.null(case$T_opt)) case[c("T_opt", "cost_at_T_opt")],
  mixed_model = function(case) lapply(case[c("uncorrelated", "correlated")], function(fit)
    list(fit$fixef, fit$sigma, fit$reml, fit$blup_slope))
)
# Search and boundary fits end where their tolerance lets them: six digits, three for the mixed models.
tolerance <- list(mixed_model = 2e-3)

numbers <- function(value) as.numeric(rapply(
  list(value), function(leaf) replace(leaf, !is.finite(leaf), NA), how = "unlist"))
# JSON keeps a matrix by rows, and null where R has no number.
asKept <- function(value) fromJSON(toJSON(value, digits = 15, na = "null", null = "null"), simplifyVector = FALSE)
flat <- function(value) {
  if (is.null(value)) return(NA)
  if (is.list(value)) return(unlist(lapply(value, flat), use.names = FALSE))
  numbers(value)
}

if (length(commandArgs(trailingOnly = TRUE)) > 0) {
  name <- commandArgs(trailingOnly = TRUE)[1]
  cat(toJSON(lapply(casesOf(name), answers[[name]]), digits = 15, auto_unbox = TRUE), "\n")
} else {
  differing <- 0
  for (name in names(answers)) {
    cases <- casesOf(name)
    within <- if (is.null(tolerance[[name]])) 1e-6 else tolerance[[name]]
    checked <- 0
    for (case in cases) {
      want <- kept[[name]](case)
      if (is.null(want) || all(sapply(want, is.null))) next
      want <- flat(asKept(want))
      got <- flat(asKept(suppressMessages(answers[[name]](case))))
      checked <- checked + 1
      off <- length(want) != length(got) || any(is.na(want) != is.na(got)) ||
        any(abs(got - want) > within * pmax(abs(want), 1e-3), na.rm = TRUE)
      if (off) {
        differing <- differing + 1
        cat(name, ": differs in", if (is.null(case$id)) toJSON(case, auto_unbox = TRUE) else case$id, "\n")
      }
    }
    cat(name, ":", checked, "of", length(cases), "cases worked out again\n")
  }
  if (differing > 0) quit(status = 1)
}
