# Numbers behind PitScaleTest, BaselinesTest and EstimatedAndActualTest: product-limit estimates.
library(survival)
source("say.R")
maintained <- survfit(Surv(time, status) ~ 1, aml, subset = x == "Maintained")
say("aml.survival", summary(maintained)$surv)
u <- c(.1, .3, .45, .5, .62, .7, .85, .97)
e <- c(1, 1, 0, 1, 1, 0, 1, 1)
say("estimated.shares", 1 - summary(survfit(Surv(u, e) ~ 1), times = c(.5, .8, .9, .95))$surv)
