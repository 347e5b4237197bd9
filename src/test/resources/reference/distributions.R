# Numbers behind NormalTest, LogLinearTest, PromiseTest, SlotsTest and ScoresTest.
source("say.R")
say("normal.quantiles", qnorm(0.9), qnorm(1e-9))
sdlog <- sqrt(log(1 + (8 / 20)^2))
meanlog <- log(20) - sdlog^2 / 2
say("mean_20_sd_8.logs", meanlog, sdlog)
say("mean_20_sd_8.quantiles", qlnorm(c(.5, .75, .8, .9), meanlog, sdlog))
say("mean_20_sd_8.cdf", plnorm(c(10, 20, 40), meanlog, sdlog))
bound <- function(p, n, s) exp(qt(p, n - 1) * s * sqrt(1 + 1 / n))
say("student.bounds", bound(.8, 3, .35), bound(.8, 5, .35), bound(.8, 10, .35), bound(.9, 20, .35))
# Closed form of the continuous ranked probability score of a log-normal time.
crps <- function(y, m, s) {
    z <- (log(y) - m) / s
    y * (2 * pnorm(z) - 1) - 2 * exp(m + s^2 / 2) * (pnorm(z - s) + pnorm(s / sqrt(2)) - 1)
}
say("crps", crps(3, .1, .9), crps(20, log(18), .35), crps(45, log(20), .4))
