# Times R's accelerated failure time regression, log-normal and right-censored, on a table of visits.
library(survival)
table <- read.csv(commandArgs(TRUE)[1], stringsAsFactors = TRUE)
once <- function() {
    gc(FALSE)
    system.time(survreg(
        Surv(minutes, completed) ~ method * ears + practitioner + first + aid + wax + canal + depth,
        table, dist = "lognormal"))[["elapsed"]]
}
cat("R", format(getRversion()), "survival", format(packageVersion("survival")), "\n")
cat("seconds", min(once(), once()), "\n")
