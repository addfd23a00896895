# Computes again, from the files of readings alone, what 'millrace analyze' says of them.
# Base R only. Usage: Rscript whole_run.R load.csv temperature.csv time.csv
# Prints lines 'name,value'.
files <- commandArgs(trailingOnly = TRUE)
say <- function(name, value) cat(name, ",", format(value, digits = 17), "\n", sep = "")
unscaled <- function(fit) sqrt(diag(summary(fit)$cov.unscaled))

# Load: I = I_0 - G V + D (t - mean t), weighted, covariance unscaled.
d <- read.csv(files[1])
d$t <- d$time_s - mean(d$time_s)
fit <- lm(current_A ~ terminal_voltage_V + t, data = d, weights = 1 / u_current_A^2)
nominal <- d$nominal_A[1]
say("output_conductance", -coef(fit)[[2]])
say("u output_conductance", unscaled(fit)[[2]])
say("load_regulation", coef(fit)[[2]] / nominal * 1e6)
say("output_resistance", -1 / coef(fit)[[2]])

# The current into a short: one visit, so that y = I/I_N - 1 is c - G_0 V + g_10 V x + g_20 V x^2 + e h, the last three
# known beforehand to be 0 with a standard deviation, one more row each; u grows by what the point there lies off.
y <- d$current_A / nominal - 1
v <- d$terminal_voltage_V
x <- v / max(v)
h <- (d$time_s - mean(range(d$time_s))) / 3600
steepest <- max(abs(coef(lm(y ~ v))[[2]]), 0.1e-6 / max(v))
u <- d$u_current_A / nominal
known <- c(0.3 * steepest, 0.09 * steepest, 0.5e-6)
rows <- rbind(cbind(1, -v, v * x, v * x^2, h) / u, cbind(0, 0, diag(1 / known)))
inverse <- qr(rows)
found <- qr.coef(inverse, c(y / u, 0, 0, 0))
variance <- chol2inv(qr.R(inverse))[1, 1]
off <- y[v == 0] - found[[1]]
say("current", nominal * (1 + found[[1]]))
say("u current", nominal * sqrt(variance + max(0, off^2 - u[v == 0]^2)))

# Temperature: one level per temperature and a time term, then the slope of the levels at the visits, of equal
# weight; ends and box as means of visits.
d <- read.csv(files[2])
ref <- mean(d$current_A[d$temperature_degC == 23])
d$y <- d$current_A / ref - 1
d$dT <- d$temperature_degC - 23
d$t <- d$time_s - mean(d$time_s)
levels <- model.matrix(~ factor(dT) - 1, d)
both <- cbind(levels, d$t)
rows <- solve(crossprod(both), t(both))[seq_len(ncol(levels)), ]
plain <- (d$dT - mean(d$dT)) / sum((d$dT - mean(d$dT))^2)
w <- drop(plain %*% levels %*% rows)
say("tempco", sum(w * d$y) * 1e6)
say("u tempco", sqrt(sum((w * d$u_current_A)^2)) / ref * 1e6)
say("tempco_box", (max(d$current_A) - min(d$current_A)) / ref / diff(range(d$dT)) * 1e6)
cold <- d[d$temperature_degC == min(d$temperature_degC), ]
hot <- d[d$temperature_degC == max(d$temperature_degC), ]
say("tempco_cold", (mean(cold$current_A) - ref) / ref / mean(cold$dT) * 1e6)
say("tempco_hot", (mean(hot$current_A) - ref) / ref / mean(hot$dT) * 1e6)

# Time: least-squares slope of clipped readings, overlapping Allan deviation of fractional currents.
d <- read.csv(files[3])
ppm <- (d$current_A / d$nominal_A - 1) * 1e6
hours <- d$time_s / 3600
n <- length(ppm)
mirror <- c(ppm[4:2], ppm, ppm[(n - 1):(n - 3)])
middle <- sapply(seq_len(n), function(i) median(mirror[i:(i + 6)]))
reach <- 4.5 * 1.4826 * median(abs(ppm - middle))
clipped <- middle + pmax(-reach, pmin(reach, ppm - middle))
say("drift", coef(lm(clipped ~ hours))[[2]])
for (m in 2^(0:5)) {
  averages <- stats::filter(ppm, rep(1 / m, m), sides = 1)
  averages <- averages[!is.na(averages)]
  steps <- averages[(1 + m):length(averages)] - averages[1:(length(averages) - m)]
  say(paste("allan_deviation", m), sqrt(mean(steps^2) / 2))
}
