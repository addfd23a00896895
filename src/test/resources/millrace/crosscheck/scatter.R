# Computes again, from the CSV that 'millrace compare --csv' writes, the components of variance that
# 'millrace compare --by ... --json' states: by the restricted likelihood as it is defined, with the covariance matrix
# of all values and R's own optimiser. Base R only. Usage: Rscript scatter.R batch.csv QUANTITY RANGE FACTOR...
# Prints lines 'name,value'.
args <- commandArgs(trailingOnly = TRUE)
say <- function(name, value) cat(name, ",", format(value, digits = 17), "\n", sep = "")
coverage <- 0.9545

d <- read.csv(args[1], colClasses = "character")
d <- d[d$counts == "yes" & d$quantity == args[2] & d$range == args[3] & d$value != "", ]
y <- as.numeric(d$value)
y <- y - mean(y)
scale <- sd(y)
y <- y / scale
n <- length(y)
factors <- args[-(1:3)]
alike <- lapply(factors, function(f) outer(d[[f]], d[[f]], "==") * 1)
one <- rep(1, n)

deviance <- function(sd) {
  v <- diag(sd[length(sd)]^2, n)
  for (f in seq_along(factors)) v <- v + sd[f]^2 * alike[[f]]
  r <- chol(v)
  a <- backsolve(r, one, transpose = TRUE)
  b <- backsolve(r, y, transpose = TRUE)
  information <- sum(a^2)
  2 * sum(log(diag(r))) + log(information) + sum(b^2) - sum(a * b)^2 / information
}
names <- c(factors, "rest")
best <- optim(rep(0.5, length(names)), function(s) deviance(abs(s) + 1e-9), control = list(reltol = 1e-14, maxit = 5000))
best <- optim(best$par, function(s) deviance(abs(s) + 1e-9), control = list(reltol = 1e-14, maxit = 5000))
sd <- abs(best$par)
for (i in seq_along(names)) say(names[i], sd[i] * scale)

# Intervals: the deviance with one standard deviation fixed and all others as they fit best.
allowed <- qchisq(coverage, 1)
profile <- function(i, x) {
  others <- optim(sd[-i], function(s) { all <- numeric(length(sd)); all[-i] <- abs(s) + 1e-9; all[i] <- x; deviance(all) },
    method = if (length(sd) > 2) "Nelder-Mead" else "BFGS", control = list(reltol = 1e-12, maxit = 5000))
  others$value - best$value - allowed
}
for (i in seq_along(names)) {
  say(paste(names[i], "upper"), scale * uniroot(function(x) profile(i, x), c(sd[i], 30), tol = 1e-8)$root)
  low <- if (i == length(names)) 1e-3 else 1e-6
  say(paste(names[i], "lower"),
    if (profile(i, low) <= 0) 0 else scale * uniroot(function(x) profile(i, x), c(low, sd[i]), tol = 1e-8)$root)
}
