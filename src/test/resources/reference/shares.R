# Numbers behind ShareTest and DayRatioTest.
source("say.R")
score <- function(x, n) prop.test(x, n, correct = FALSE)$conf.int
say("share.12_of_80", score(12, 80))
say("share.0_of_10", score(0, 10)[2])
p <- 56 / 70; q <- 48 / 80
a <- score(56, 70); b <- score(48, 80)
say("difference.56_of_70.48_of_80",
    p - q - sqrt((p - a[1])^2 + (b[2] - q)^2), p - q + sqrt((a[2] - p)^2 + (q - b[1])^2))
y <- c(12, 40, 8, 22, 60, 5, 31, 18, 27, 44)
n <- c(4, 8, 5, 6, 9, 3, 7, 6, 6, 8)
r <- sum(y) / sum(n)
say("day_ratio", r, 10 / 9 * sum((y - r * n)^2) / sum(n)^2)
