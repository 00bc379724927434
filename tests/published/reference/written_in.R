# Prints the figures by R that are written into the tests themselves: run lengths watched on both sides
# and of a slow average, Huber lines, and a log-rank test of three groups.
suppressMessages({library(spc); library(MASS); library(survival)})
figures <- function(...) cat(..., "\n", sep = "  ")
twelve <- function(x) sprintf("%.12g", x)

for (at in list(c(4, 0.25, 0), c(4, 0.25, 2), c(5, 1, 2.5)))
  figures("cusum h, shift, head start", at, "length",
          twelve(xcusum.arl(0.5, at[1], at[2], hs = at[3], sided = "two", r = 60)))
for (r in c(150, 300)) figures("ewma 0.005, 2.5", twelve(xewma.arl(0.005, 2.5, 0, sided = "two", r = r)))

for (y in list(c(1, 4, 8, 9), c(3, -2, 6, 4, -3, 3, 2),
               c(0.3, -1.1, 0.4, 0.9, -0.6, 7.5, -0.2, 0.8, -0.9, 0.1))) {
  line <- suppressWarnings(rlm(cbind(1, seq_along(y) - 1), y, psi = psi.huber))
  figures("Huber", y, "line", twelve(coef(line)), "scale", twelve(line$s), "converged", line$converged)
}

third <- data.frame(time = c(7, 10, 13, 20, 22, 25, 60), status = c(1, 0, 1, 1, 1, 0, 1), x = "third")
test <- survdiff(Surv(time, status) ~ x, rbind(aml, third))
figures("log-rank", twelve(test$chisq), "p", twelve(pchisq(test$chisq, 2, lower.tail = FALSE)))
