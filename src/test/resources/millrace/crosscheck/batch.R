# Computes again, from the CSV that 'millrace compare --csv' writes, what 'millrace compare --json' says of a batch.
# Base R only. Usage: Rscript batch.R batch.csv QUANTITY RANGE LOT reference-a.csv reference-b.csv
# Prints lines 'name,value'.
args <- commandArgs(trailingOnly = TRUE)
say <- function(name, value) cat(name, ",", format(value, digits = 17), "\n", sep = "")
coverage <- 0.9545

all <- read.csv(args[1], colClasses = c(started_at = "character"))
all <- all[all$counts == "yes", ]

# Yield of first tests: a unit passes if every limited result does and no point is doubtful. Clopper and Pearson.
passed <- tapply(all$unit_passed == "yes", all$unit, all)
judged <- all[all$conformity != "", ]
stopifnot(tapply(judged$conformity == "pass", judged$unit, all)[passed])
exact <- binom.test(sum(passed), length(passed), conf.level = coverage)
say("passed", sum(passed))
say("units", length(passed))
say("yield lower", exact$conf.int[1])
say("yield upper", exact$conf.int[2])

# One quantity, as it is judged, in the order of time.
d <- all[all$quantity == args[2] & all$range == args[3] & grepl("worst", all$at), ]
d <- d[order(d$started_at), ]
x <- d$value
n <- length(x)
say("n", n)
say("mean", mean(x))
say("standard_deviation", sd(x))
away <- min(d$upper_limit[1] - mean(x), mean(x) - d$lower_limit[1])
say("ppk", away / (3 * sd(x)))
ranges <- abs(diff(x))
sigma <- mean(ranges) / (2 / sqrt(pi))
say("cpk", away / (3 * sigma))
say("chart lower", mean(x) - 3 * sigma)
say("chart upper", mean(x) + 3 * sigma)
say("outside chart", sum(abs(x - mean(x)) > 3 * sigma))

# Generalized extreme studentized deviate: Rosner, Technometrics 25 (1983) 165.
left <- seq_len(n)
suspects <- c()
found <- 0
for (i in seq_len(min(40, 1 + n %/% 10, n - 2))) {
  r <- abs(x[left] - mean(x[left])) / sd(x[left])
  far <- left[which.max(r)]
  t <- qt(1 - 0.05 / (2 * (n - i + 1)), n - i - 1)
  lambda <- (n - i) * t / sqrt((n - i - 1 + t^2) * (n - i + 1))
  if (max(r) > lambda) found <- i
  suspects <- c(suspects, d$run[far])
  left <- setdiff(left, far)
}
say("outliers", found)
say("outlier runs", sum(suspects[seq_len(found)] * seq_len(found)))

# One lot against all others: Welch.
welch <- t.test(x[d$batch == args[4]], x[d$batch != args[4]], conf.level = coverage)
say("lot difference", mean(x[d$batch == args[4]]) - mean(x[d$batch != args[4]]))
say("lot p", welch$p.value)
say("lot t", welch$statistic[[1]])

# The reference unit at the end less at the start, on either bench.
for (bench in c("a", "b")) {
  r <- read.csv(args[if (bench == "a") 5 else 6])
  r <- r[r$quantity == args[2] & r$range == args[3] & !grepl("worst", r$at), ]
  r <- r[order(r$started_at), ]
  say(paste("drift", bench), r$value[nrow(r)] - r$value[1])
}
