# Numbers behind QuantileRegressionTest (data set stackloss of base R).
library(quantreg)
source("say.R")
for (tau in c(.5, .8)) {
    f <- rq(stack.loss ~ ., data = stackloss, tau = tau)
    say(paste0("rq.", tau, ".coefficients"), coef(f))
    say(paste0("rq.", tau, ".loss"), f$rho)
}
