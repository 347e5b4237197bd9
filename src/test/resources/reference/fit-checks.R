# Numbers behind FitChecksTest. nls stops at a relative offset of 1e-8, so its last digits are about 1e-8.
library(survival)
library(lme4)
source("say.R")

# Accelerated failure time, log-normal, right-censored (data set ovarian of package survival).
exact <- survreg.control(rel.tolerance = 1e-14, maxiter = 200)
m <- survreg(Surv(futime, fustat) ~ ecog.ps + rx, ovarian, dist = "lognormal", control = exact)
say("survreg.coefficients", coef(m))
say("survreg.scale", m$scale)
say("survreg.log_likelihood", m$loglik[2])
say("survreg.standard_errors", sqrt(diag(vcov(m))))
# The same with the scale held where it came out: the standard errors of a known scale.
h <- survreg(Surv(futime, fustat) ~ ecog.ps + rx, ovarian, dist = "lognormal", scale = m$scale, control = exact)
say("survreg.standard_errors.scale_known", sqrt(diag(vcov(h))))

# One random effect (data set Dyestuff of package lme4).
ml <- lmer(Yield ~ 1 + (1 | Batch), Dyestuff, REML = FALSE)
re <- lmer(Yield ~ 1 + (1 | Batch), Dyestuff, REML = TRUE)
say("lmer.ml.mean", fixef(ml))
say("lmer.ml.variances", as.data.frame(VarCorr(ml))$vcov)
say("lmer.ml.deviance", -2 * as.numeric(logLik(ml)))
say("lmer.reml.variances", as.data.frame(VarCorr(re))$vcov)
say("lmer.reml.batches", ranef(re)$Batch[[1]])

# The additive mean on a stored invented table: additive-mean.csv.
t <- read.csv("additive-mean.csv")
n <- nls(log(minutes) ~ log(exp(a0 + a1 * first) + exp(b0 + b1 * hard1) + two * exp(b0 + b1 * hard2)),
         t, start = list(a0 = 1.5, a1 = 0.2, b0 = 1.5, b1 = 0.3),
         control = nls.control(tol = 1e-8, maxiter = 500, scaleOffset = 0))
say("nls.coefficients", coef(n))
say("nls.root_mean_square", sqrt(deviance(n) / nrow(t)))
