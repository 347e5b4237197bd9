# Numbers behind WeeksToAppointmentTest.
source("say.R")
for (n in c(5, 6, 20, 57, 400, 20000)) say(paste0("rank.", n), qbinom(0.025, n, 0.5))
# Numbers behind EstimatedPlacesTest: the life table's estimate, half of those stopped early in a class counted as at risk.
ended <- c(3, 2, 4, 1, 0, 5, 2, 3, 2, 2, 1, 4, 3, 2, 2, 3, 1, 2, 1, 2)
cut <- c(0, 1, 0, 0, 2, 0, 1, 0, 0, 1, 0, 0, 2, 0, 0, 1, 0, 0, 0, 1)
at.risk <- rev(cumsum(rev(ended + cut)))
beyond <- cumprod(1 - ended / (at.risk - cut / 2))
say("life_table", 1 - beyond[c(10, 16, 18, 19)])
