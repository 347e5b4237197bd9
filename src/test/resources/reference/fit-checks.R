# Numbers behind FitChecksTest. Made with R 4.2.2 Patched, survival 3.5-3, lme4 1.1-31.
# Run in this folder: Rscript fit-checks.R (nls stops at a relative offset of 1e-8, its last digits are about 1e-8)
library(survival)
library(lme4)
options(digits = 15)

# Accelerated failure time, log-normal, right-censored (data set ovarian of package survival).
m <- survreg(Surv(futime, fustat) ~ ecog.ps + rx, ovarian, dist = "lognormal",
             control = survreg.control(rel.tolerance = 1e-14, maxiter = 200))
cat("survreg", format(coef(m), digits = 15), format(m$scale, digits = 15), format(m$loglik[2], digits = 15), "\n")

# One random effect (data set Dyestuff of package lme4).
ml <- lmer(Yield ~ 1 + (1 | Batch), Dyestuff, REML = FALSE)
re <- lmer(Yield ~ 1 + (1 | Batch), Dyestuff, REML = TRUE)
cat("lmer ML", fixef(ml), as.data.frame(VarCorr(ml))$vcov, -2 * as.numeric(logLik(ml)), "\n")
cat("lmer REML", fixef(re), as.data.frame(VarCorr(re))$vcov, ranef(re)$Batch[[1]], "\n")

# The additive mean on a stored invented table: additive-mean.csv.
t <- read.csv("additive-mean.csv")
n <- nls(log(minutes) ~ log(exp(a0 + a1 * first) + exp(b0 + b1 * hard1) + two * exp(b0 + b1 * hard2)),
         t, start = list(a0 = 1.5, a1 = 0.2, b0 = 1.5, b1 = 0.3),
         control = nls.control(tol = 1e-8, maxiter = 500, scaleOffset = 0))
cat("nls", format(coef(n), digits = 15), format(sqrt(deviance(n) / nrow(t)), digits = 15), "\n")
