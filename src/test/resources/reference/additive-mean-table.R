# Writes additive-mean.csv: an invented table, seeded.
set.seed(20261125)
n <- 60
first <- rbinom(n, 1, 0.4); hard1 <- rbinom(n, 1, 0.4); hard2 <- rbinom(n, 1, 0.4); two <- rbinom(n, 1, 0.5)
mean <- exp(1.6 + 0.3 * first) + exp(1.5 + 0.5 * hard1) + two * exp(1.5 + 0.5 * hard2)
minutes <- round(mean * exp(rnorm(n, 0, 0.25)), 3)
write.csv(data.frame(first, two, hard1, hard2 = hard2 * two, minutes), "additive-mean.csv", row.names = FALSE, quote = FALSE)
