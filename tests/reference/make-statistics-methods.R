# Reference values for the methods of server/statistics: functions first, then the cases, then the tables.
# Run in the folder where the tables shall lie:  Rscript make-statistics-methods.R
# Needs base R, survival, MASS; brglm2 and pwr only for the cross-checks at the end. Lists in a cell are joined by ";".
suppressMessages({library(survival); library(MASS)})
RHO0 <- 0.1; NU0 <- 3; PRIORW <- 4; Z <- qnorm(.975); TOL <- 1e-12

# --- 1 one batch -------------------------------------------------------------------------------------------------
wilson <- function(x, n, q = Z) { if (n <= 0) return(c(NA, NA)); p <- x/n; c0 <- (p + q^2/(2*n))/(1 + q^2/n)
  h <- q/(1 + q^2/n)*sqrt(p*(1 - p)/n + q^2/(4*n^2)); r <- c(c0 - h, c0 + h); if (x <= 0) r[1] <- 0; if (x >= n) r[2] <- 1; r }
one_batch <- function(grafted, taken, failed) { open <- grafted - taken - failed; j <- taken + failed; w <- wilson(taken, j)
  c(open = open, judged = j, rate = if (j) taken/j else NA, low = w[1], high = w[2], worst = if (grafted) taken/grafted else NA,
    best = if (grafted) (taken + open)/grafted else NA, outer_low = wilson(taken, grafted)[1], outer_high = wilson(taken + open, grafted)[2]) }
# --- 2 batches pooled; g = group of each batch (spread is measured inside groups) ---------------------------------
spread <- function(x, n, g = rep(1, length(n))) { x <- x[n > 0]; g <- g[n > 0]; n <- n[n > 0]; K <- length(n); G <- unique(g); N <- sum(n); df <- K - length(G); r <- NA
  if (df > 0 && N > K) { ssb <- 0; n0 <- 0; for (h in G) { i <- g == h; Nh <- sum(n[i]); ssb <- ssb + sum(n[i]*(x[i]/n[i] - sum(x[i])/Nh)^2); n0 <- n0 + Nh - sum(n[i]^2)/Nh }
    n0 <- n0/df; msb <- ssb/df; msw <- sum(x*(1 - x/n))/(N - K); d <- msb + (n0 - 1)*msw; if (d > TOL) r <- (msb - msw)/d }
  list(icc = r, rho = if (is.na(r)) RHO0 else (NU0*RHO0 + df*max(0, r))/(NU0 + df), df = NU0 + df) }
neff <- function(n, rho) { n <- n[n > 0]; N <- sum(n); if (!N) 0 else N/(1 + (sum(n^2)/N - 1)*rho) }
pooled <- function(x, n) { s <- spread(x, n); ne <- neff(n, s$rho); p <- sum(x)/sum(n); w <- wilson(p*ne, ne, qt(.975, s$df)); if (sum(x) == 0) w[1] <- 0; if (sum(x) == sum(n)) w[2] <- 1
  list(rate = p, icc = s$icc, rho = s$rho, n_eff = ne, df = s$df, low = w[1], high = w[2]) }
# --- 3 two groups ------------------------------------------------------------------------------------------------
newcombe <- function(pa, la, pb, lb) { d <- pa - pb; c(d - sqrt((pa - la[1])^2 + (lb[2] - pb)^2), d + sqrt((la[2] - pa)^2 + (pb - lb[1])^2)) }
across <- function(xa, na, xb, nb) { s <- spread(c(xa, xb), c(na, nb), rep(1:2, c(length(na), length(nb)))); q <- qt(.975, s$df); ea <- neff(na, s$rho); eb <- neff(nb, s$rho)
  pa <- sum(xa)/sum(na); pb <- sum(xb)/sum(nb); L <- newcombe(pa, wilson(pa*ea, ea, q), pb, wilson(pb*eb, eb, q)); pp <- (pa*ea + pb*eb)/(ea + eb)
  t <- (pa - pb)/sqrt(pp*(1 - pp)*(1/ea + 1/eb)); list(diff = pa - pb, low = L[1], high = L[2], rho = s$rho, df = s$df, n_eff_a = ea, n_eff_b = eb, p = if (is.finite(t)) 2*pt(-abs(t), s$df) else 1) }
conv <- function(a, b) { r <- numeric(length(a) + length(b) - 1); for (i in seq_along(a)) { k <- i + seq_along(b) - 1; r[k] <- r[k] + a[i]*b }; r }
exact_strata <- function(xa, na, xb, nb) { # two-sided exact conditional test over strata; one stratum: Fisher
  pm <- 1; lo <- 0; for (h in seq_along(na)) { m <- xa[h] + xb[h]; s <- max(0, m - nb[h]):min(na[h], m); d <- dhyper(s, na[h], nb[h], m); lo <- lo + s[1]; pm <- if (length(pm) == 1) pm*d else if (length(d) == 1) pm*d else conv(pm, d) }
  i <- sum(xa) - lo + 1; min(1, sum(pm[pm <= pm[i]*(1 + 1e-7)])/sum(pm)) }
within <- function(xa, na, xb, nb) { k <- na > 0 & nb > 0; xa <- xa[k]; na <- na[k]; xb <- xb[k]; nb <- nb[k]; w <- na*nb/(na + nb); w <- w/sum(w); pa <- sum(w*xa/na); pb <- sum(w*xb/nb)
  ea <- 1/sum(w^2/na); eb <- 1/sum(w^2/nb); L <- newcombe(pa, wilson(pa*ea, ea), pb, wilson(pb*eb, eb)); N <- na + nb; m <- xa + xb
  v <- sum(m*(N - m)*na*nb/(N^2*(N - 1))); chi <- if (v > 0) sum(xa - m*na/N)^2/v else 0
  list(strata = sum(k), diff = pa - pb, low = L[1], high = L[2], p_exact = exact_strata(xa, na, xb, nb), cmh = chi, p_cmh = pchisq(chi, 1, lower.tail = FALSE), or_mh = sum(xa*(nb - xb)/N)/sum((na - xa)*xb/N)) }
# --- 4 many batches ----------------------------------------------------------------------------------------------
ranking <- function(x, n) { s <- spread(x, n); r <- min(.9, s$rho); w <- n/(1 + (n - 1)*r); W <- sum(w); m <- (sum(w*x/n) + .5)/(W + 1); S <- 1/r - 1
  e <- (m*S + x)/(S + n); v <- e*(1 - e)/(S + n + 1) + (S/(S + n))^2*m*(1 - m)/(W + 2); t <- e*(1 - e)/v - 1; L <- qbeta(.025, e*t, (1 - e)*t); U <- qbeta(.975, e*t, (1 - e)*t)
  list(usual = m, rho = r, est = e, low = L, high = U, word = ifelse(L > m, "better", ifelse(U < m, "worse", "same"))) }
ranking_pairs <- function(xs, ns) { x <- unlist(xs); n <- unlist(ns); g <- rep(seq_along(xs), lengths(xs)); r <- spread(x, n, g)$rho; e <- vapply(ns, neff, 0, rho = r); p <- vapply(xs, sum, 0)/vapply(ns, sum, 0); c(list(rho_inside = r, x_eff = p*e, n_eff = e), ranking(p*e, e)) }
# --- 5 Firth -----------------------------------------------------------------------------------------------------
pll <- function(b, X, y) { e <- drop(X %*% b); W <- plogis(e)*plogis(-e); sum(y*plogis(e, log.p = TRUE) + (1 - y)*plogis(-e, log.p = TRUE)) + .5*as.numeric(determinant(crossprod(X*sqrt(W)))$modulus) }
firth <- function(X, y, fix = NULL, val = 0, b = rep(0, ncol(X))) { free <- setdiff(seq_len(ncol(X)), fix); if (length(fix)) { # start along the tangent of the profile, so that columns far from 0 do no harm
    p <- plogis(drop(X %*% b)); I <- crossprod(X*sqrt(p*(1 - p))); if (length(free)) b[free] <- b[free] - drop(solve(I[free, free, drop = FALSE], I[free, fix]))*(val - b[fix]); b[fix] <- val }; l <- pll(b, X, y)
  for (i in 1:500) { p <- plogis(drop(X %*% b)); W <- p*(1 - p); I <- crossprod(X*sqrt(W)); h <- W*rowSums((X %*% solve(I))*X); U <- drop(crossprod(X, y - p + h*(.5 - p)))
    if (!length(free)) break; s <- rep(0, ncol(X)); s[free] <- solve(I[free, free, drop = FALSE], U[free]); if (max(abs(s)) > 5) s <- s*5/max(abs(s))
    t <- 1; repeat { ln <- pll(b + t*s, X, y); if ((is.finite(ln) && ln >= l - 1e-13) || t < 1e-8) break; t <- t/2 }; b <- b + t*s; l <- ln; if (max(abs(t*s)) < 1e-12) break }
  p <- plogis(drop(X %*% b)); list(b = b, l = l, se = sqrt(diag(solve(crossprod(X*sqrt(p*(1 - p))))))) }
firth_limits <- function(X, y, j, f = firth(X, y)) { g <- function(v) 2*(f$l - firth(X, y, j, v, f$b)$l) - qchisq(.95, 1)
  side <- function(s) { a <- f$b[j]; st <- f$se[j]; u <- a + s*st; while (g(u) < 0) { a <- u; st <- st*1.5; u <- u + s*st }; uniroot(g, sort(c(a, u)), tol = 1e-13)$root }; c(side(-1), side(1)) }
firth_table <- function(set, X, y, only = seq_len(ncol(X))) { f <- firth(X, y); do.call(rbind, lapply(only, function(j) { q <- 2*(f$l - firth(X, y, j, 0, f$b)$l); L <- firth_limits(X, y, j, f)
  data.frame(set, term = colnames(X)[j], n = length(y), smaller = min(sum(y), sum(1 - y)), estimate = f$b[j], se = f$se[j], low = L[1], high = L[2], lr = q, p = pchisq(q, 1, lower.tail = FALSE), penalised_loglik = f$l) })) }
# --- 7 plan ------------------------------------------------------------------------------------------------------
bb_tail <- function(N, n, a, b) { if (n < N) return(0); k <- N:n; sum(exp(lchoose(n, k) + lbeta(a + k, b + n - k) - lbeta(a, b))) }
plan_n <- function(N, C, a, b) { cap <- max(1000, 20*N); ok <- function(n) bb_tail(N, n, a, b) >= C - 1e-9; if (!ok(cap)) return(NA); lo <- N - 1; hi <- N; while (!ok(hi)) { lo <- hi; hi <- min(cap, 2*hi) }; while (hi - lo > 1) { m <- (lo + hi) %/% 2; if (ok(m)) hi <- m else lo <- m }; hi }
plan <- function(N, C, prior, x, n, B = 1, rho = NULL) { s <- spread(x, n); if (is.null(rho)) rho <- s$rho; ne <- neff(n, rho); p <- if (sum(n)) sum(x)/sum(n) else 0
  Tt <- PRIORW + ne; m <- (PRIORW*prior + ne*p)/Tt; r <- rho/B; S <- (Tt + 1)/(1 + r*Tt) - 1; a <- m*S; b <- (1 - m)*S; g <- plan_n(N, C, a, b); cap <- max(1000, 20*N)
  list(rho = rho, n_eff = ne, mean = m, a = a, b = b, graft = g, chance = bb_tail(N, if (is.na(g)) cap else g, a, b), before = if (is.na(g) || g == N) NA else bb_tail(N, g - 1, a, b), naive = ceiling(N/(if (sum(x)) sum(x)/sum(n) else prior) - 1e-9)) }
# --- 8 trial -----------------------------------------------------------------------------------------------------
far <- function(p, d) if (p + d <= .95 + 1e-12) p + d else p - d
two_n <- function(p1, p2, pw = .8) { m <- (p1 + p2)/2; (Z*sqrt(2*m*(1 - m)) + qnorm(pw)*sqrt(p1*(1 - p1) + p2*(1 - p2)))^2/(p1 - p2)^2 }
two_power <- function(n, p1, p2) { m <- (p1 + p2)/2; pnorm((sqrt(n)*abs(p1 - p2) - Z*sqrt(2*m*(1 - m)))/sqrt(p1*(1 - p1) + p2*(1 - p2))) }
two_batches <- function(p1, p2, n, rho, pw = .8) ceiling((Z + qnorm(pw))^2*(p1*(1 - p1) + p2*(1 - p2))*(1 + (n - 1)*rho)/(n*(p1 - p2)^2) - 1e-9) + 1
floor_batches <- function(p1, p2, rho, pw = .8) ceiling((Z + qnorm(pw))^2*(p1*(1 - p1) + p2*(1 - p2))*rho/(p1 - p2)^2 - 1e-9) + 1
rng <- function(seed) { s <- seed %% 2147483647; if (s == 0) s <- 1; f <- function() { s <<- (48271*s) %% 2147483647; s }; for (i in 1:3) f(); f }
bench <- function(seed, n, ways = 2, run = 6) { f <- rng(seed); out <- integer(0); while (length(out) < n) { m <- min(run, n - length(out)); l <- rep(seq_len(ways), m %/% ways); r <- m %% ways
  if (r) { pool <- seq_len(ways); for (q in seq_len(r)) { j <- floor(f()*length(pool)/2147483647) + 1; l <- c(l, pool[j]); pool <- pool[-j] } }
  if (m > 1) for (i in m:2) { j <- floor(f()*i/2147483647) + 1; t <- l[i]; l[i] <- l[j]; l[j] <- t }; out <- c(out, l) }; paste(LETTERS[out], collapse = "") }

J <- function(v) paste(v, collapse = ";"); P <- function(s) if (s == "") numeric(0) else as.numeric(strsplit(s, ";")[[1]])
F <- function(v) vapply(v, function(u) if (is.na(u)) "" else if (!is.finite(u)) "inf" else if (u == round(u) && abs(u) < 1e15) sprintf("%.0f", u) else if (abs(u) < 1e-4) sprintf("%.9e", u) else sprintf("%.10f", u), "")
out <- function(d, f) { for (c in names(d)) if (is.numeric(d[[c]])) d[[c]] <- F(d[[c]]); write.csv(d, f, row.names = FALSE, quote = FALSE, na = "") }
bind <- function(l) do.call(rbind, lapply(l, function(e) as.data.frame(e, stringsAsFactors = FALSE)))
emit <- function(cs) {
  out(bind(lapply(cs$batch, function(b) c(list(grafted = b[1], taken = b[2], failed = b[3]), as.list(one_batch(b[1], b[2], b[3]))))), "statistics-batch.csv")
  out(bind(lapply(cs$pooled, function(b) c(list(taken = b[1], judged = b[2]), pooled(P(b[1]), P(b[2]))))), "statistics-pooled.csv")
  out(bind(lapply(cs$across, function(b) c(list(taken_a = b[1], judged_a = b[2], taken_b = b[3], judged_b = b[4]), across(P(b[1]), P(b[2]), P(b[3]), P(b[4]))))), "statistics-compare-across.csv")
  out(bind(lapply(cs$within, function(b) c(list(taken_a = b[1], judged_a = b[2], taken_b = b[3], judged_b = b[4]), within(P(b[1]), P(b[2]), P(b[3]), P(b[4]))))), "statistics-compare-within.csv")
  out(bind(lapply(seq_along(cs$ranking), function(i) { b <- cs$ranking[[i]]; x <- P(b[1]); n <- P(b[2]); r <- ranking(x, n); data.frame(case = i, batch = seq_along(x), taken = x, judged = n, usual = r$usual, rho = r$rho, estimate = r$est, low = r$low, high = r$high, word = r$word) })), "statistics-ranking.csv")
  out(bind(lapply(seq_along(cs$pairs), function(i) { b <- cs$pairs[[i]]; sp <- function(s) lapply(strsplit(s, "|", fixed = TRUE)[[1]], P); r <- ranking_pairs(sp(b[1]), sp(b[2])); data.frame(case = i, pair = seq_along(r$est), taken = strsplit(b[1], "|", fixed = TRUE)[[1]], judged = strsplit(b[2], "|", fixed = TRUE)[[1]], rho_inside = r$rho_inside, x_eff = r$x_eff, n_eff = r$n_eff, usual = r$usual, rho = r$rho, estimate = r$est, low = r$low, high = r$high, word = r$word) })), "statistics-ranking-pairs.csv")
  out(bind(cs$firth()), "statistics-firth.csv")
  out(bind(lapply(cs$plan, function(b) c(list(takes = b$N, confidence = b$C, prior = b$m, taken = b$x, judged = b$n, batches_planned = b$B), plan(b$N, b$C, b$m, P(b$x), P(b$n), b$B)))), "statistics-plan.csv")
  out(bind(lapply(cs$trial, function(b) { p2 <- far(b[1], b[2]); list(rate = b[1], points = b[2], other = p2, power = b[3], each_exact = two_n(b[1], p2, b[3]), each = ceiling(two_n(b[1], p2, b[3]) - 1e-9), batch_size = b[4], rho = b[5], batches_each = two_batches(b[1], p2, b[4], b[5], b[3]), batches_each_if_huge = floor_batches(b[1], p2, b[5], b[3])) })), "statistics-trial.csv")
  out(bind(lapply(cs$power, function(b) list(each = b[1], rate = b[2], other = b[3], power = two_power(b[1], b[2], b[3])))), "statistics-trial-power.csv")
  out(bind(lapply(cs$bench, function(b) list(seed = b[1], grafts = b[2], ways = b[3], run = b[4], order = bench(b[1], b[2], b[3], b[4])))), "statistics-trial-order.csv")
  out(bind(lapply(cs$confound, function(b) { A <- P(b[1]); B <- P(b[2]); k <- A > 0 & B > 0; list(judged_a_by_level = b[1], judged_b_by_level = b[2], overlap = sum((A + B)[k])/sum(A + B), word = if (!any(k)) "never-apart" else if (sum((A + B)[k])/sum(A + B) < .5) "mostly-together" else "apart") })), "statistics-confounding.csv")
  out(bind(cs$survival()), "statistics-survival.csv")
  out(bind(lapply(cs$landmark, function(b) { tk <- P(b[1]); al <- P(b[2]); f <- (sum(tk) + 1)/(sum(al) + 2); list(finished_taken = b[1], finished_alive_at_age = b[2], grafted = as.numeric(b[3]), taken = as.numeric(b[4]), open = as.numeric(b[5]), share = f, estimate = (as.numeric(b[4]) + f*as.numeric(b[5]))/as.numeric(b[3])) })), "statistics-open.csv")
}
surv_rows <- function(set, time, event, group = NULL, strata = NULL) { s <- survfit(Surv(time, event) ~ 1, conf.type = "log-log"); k <- s$n.event > 0; first <- function(v) { i <- which(k & !is.na(v) & v <= .5 + 1e-9); if (length(i)) s$time[i[1]] else NA }
  r <- data.frame(set, what = "median", t = NA, n_risk = NA, events = NA, value = first(s$surv), low = first(s$lower), high = first(s$upper)) # first day with S <= 0.5; no midpoint
  r <- rbind(r, data.frame(set, what = "survival", t = s$time, n_risk = s$n.risk, events = s$n.event, value = s$surv, low = s$lower, high = s$upper)[s$n.event > 0, ])
  if (!is.null(group)) { d <- if (is.null(strata)) survdiff(Surv(time, event) ~ group) else survdiff(Surv(time, event) ~ group + strata(strata)); r <- rbind(r, data.frame(set, what = if (is.null(strata)) "logrank" else "logrank-stratified", t = NA, n_risk = NA, events = sum(event), value = d$chisq, low = NA, high = pchisq(d$chisq, 1, lower.tail = FALSE))) }; r }

if (!exists("cases")) { # the shared cases; another script may set `cases` before sourcing this one
mk <- function(N, C, m, x, n, B = 1) list(N = N, C = C, m = m, x = x, n = n, B = B)
endo <- function() read.csv("endometrial.csv")
cases <- list(
 batch = list(c(14,9,3), c(0,0,0), c(20,0,0), c(1,1,0), c(1,0,1), c(3,3,0), c(3,0,3), c(3,1,1), c(5,5,0), c(20,18,2), c(20,0,2), c(40,31,4), c(96,30,66), c(352,346,6), c(603,420,183), c(290,241,49), c(100000,75000,20000), c(500,0,500), c(500,500,0)),
 pooled = list(c("30;346;420","96;352;603"), c("9","12"), c("18;12","20;20"), c("5;5","5;5"), c("0;0;0","8;12;10"), c("3;9;14;20","5;12;16;40"), c("1;1;0;1","1;1;1;1"), c("15;15;15;15","20;20;20;20"), c("40;8","40;40"), c("75000;3","100000;5"), c("7;0;18","9;0;25"), c("12;30;44;9;61;17;25;38;50;22","16;40;60;20;70;30;30;40;80;25"), c("20;0;20;0","20;20;20;20")),
 across = list(c("30","96","346","352"), c("18;12","20;20","9;11","20;20"), c("31;40;28","40;50;40","22;20;17","40;40;40"), c("5","5","0","5"), c("10;10","10;10","10;10","10;10"), c("0;0","10;10","10;10","10;10"), c("8;15;60;20;33","10;20;80;25;40","5;12;30;14;18","10;20;60;25;40"), c("12","15","9;10;30;12","15;20;50;15"), c("1;1","1;1","0;1","1;1")),
 within = list(c("56","70","48","80"), c("9","10","3","10"), c("128","150","113","140"), c("5","5","0","5"), c("8;12","10;15","5;9","10;15"), c("3;14;20;9","5;20;30;10","2;10;22;8","6;20;30;12"), c("10;4","10;10","9;6","10;10"), c("0;0","6;6","0;0","6;6"), c("512;353;120;138;53;22","825;560;325;417;191;373","89;17;202;131;94;24","108;25;593;375;393;341"), c("0;3;6;5;2","0;6;6;6;2","0;0;2;6;5","0;5;6;6;5")),
 ranking = list(c("3;9;18;30","3;12;20;60"), c("5;5;5","5;5;5"), c("0;20","20;20"), c("12;30;44;9;61;17;25;38;50;22","16;40;60;20;70;30;30;40;80;25"), c("30;346;420","96;352;603"), c("1","2"), c("18;17;16;15;14;14;13;12;11;11;10;10;10;10;10;9;8;7","45;45;45;45;45;45;45;45;45;45;45;45;45;45;45;45;45;45")),
 pairs = list(c("18;30;9|12;20;5|38;19", "20;40;10|20;40;20|40;20"), c("3;4|5;5", "5;5|5;5"), c("0;2;1|17;33;20;18|9;12", "10;20;15|20;40;20;20|12;20")),
 firth = function() { e <- endo(); c23 <- read.csv("challenger-orings.csv"); c24 <- data.frame(t = c(53,56,57,63,66,67,67,67,68,69,70,70,70,70,72,73,75,75,76,76,78,79,80,81), y = c(1,1,1,rep(0,7),1,1,1,0,0,0,0,1,rep(0,6)))
  sx <- data.frame(x = 1:6, y = c(0,0,0,1,1,1)); dp <- data.frame(b = rep(1:3, each = 12), x = c(25,28,30,32,33,35,35,38,40,42,45,50, 20,22,25,27,30,30,33,35,36,40,41,44, 30,32,35,36,38,40,41,43,45,48,50,52), y = c(0,0,1,0,1,1,1,1,1,0,1,0, 0,0,0,1,0,1,1,0,1,1,1,1, 1,0,1,1,0,1,1,1,1,1,0,1))
  write.csv(dp, "statistics-depth-example.csv", row.names = FALSE, quote = FALSE)
  list(firth_table("endometrial: HG on NV PI EH", cbind(one = 1, as.matrix(e[, c("NV","PI","EH")])), e$HG), firth_table("challenger-orings: any_distress on temp_f", cbind(one = 1, temp_f = c23$temp_f), c23$any_distress),
   firth_table("x 1..6 with y 000111", cbind(one = 1, x = sx$x), sx$y), firth_table("five taken of five and none of five: y on group", cbind(one = 1, group = rep(0:1, each = 5)), rep(0:1, each = 5)),
   firth_table("statistics-depth-example: y on x per 10 with batch intercepts", cbind(b1 = +(dp$b == 1), b2 = +(dp$b == 2), b3 = +(dp$b == 3), depth10 = dp$x/10), dp$y, 4)) },
 plan = list(mk(50,.9,.75,"",""), mk(50,.8,.75,"",""), mk(20,.9,.75,"",""), mk(20,.9,.45,"",""), mk(20,.9,.75,"15","20"), mk(50,.9,.75,"18;30;9;44","20;40;10;60"), mk(50,.9,.75,"18;30;9;44","20;40;10;60",3), mk(50,.95,.7,"18;30;9;44","20;40;10;60"), mk(50,.9,.75,"10;38;4;20","20;40;10;60"), mk(10,.9,.75,"0;0","10;10"), mk(10,.9,.75,"10;10","10;10"), mk(1,.9,.4,"",""), mk(200,.9,.75,"346;420","352;603"), mk(50,.99,.4,"",""), mk(5000,.9,.75,"180;160;170","200;200;200",10)),
 trial = list(c(.75,.2,.8,20,.1), c(.75,.1,.8,20,.1), c(.75,.3,.8,20,.1), c(.5,.25,.9,20,.1), c(.5,.1,.8,40,.05), c(.9,.1,.8,20,.1), c(.9,.2,.8,30,.2), c(.6,.3,.8,40,.1), c(.85,.1,.8,50,.03), c(.05,.15,.8,20,.1)),
 power = list(c(50,.5,.75), c(20,.75,.95), c(40,.75,.55), c(10,.5,.9), c(100,.75,.85), c(5,.75,.95)),
 bench = list(c(1,12,2,6), c(2028,20,2,6), c(0,7,2,6), c(7,18,3,6), c(2147483647,5,2,6), c(42,24,2,8), c(99,1,2,6)),
 confound = list(c("40;0","0;60"), c("40;20","0;60"), c("40;20;10","5;60;10"), c("0;30;2","50;0;3"), c("10","12")),
 survival = function() { f <- read.csv("freireich-6mp.csv"); s <- data.frame(t = c(14,14,28,28,42,56,56,70,200,200,200,200, 14,28,28,42,42,42,70,84,84,200,200,200, 28,42,150,150,150,150,150,150, 14,28,42,150,150,150,150,150), e = c(1,1,1,1,1,1,0,1,0,0,0,0, 1,1,1,1,1,1,0,1,1,0,0,0, 1,1,0,0,0,0,0,0, 1,1,1,0,0,0,0,0), g = rep(c("A","B","A","B"), c(12,12,8,8)), b = rep(c(1,1,2,2), c(12,12,8,8)))
  write.csv(s, "statistics-survival-example.csv", row.names = FALSE, quote = FALSE)
  list(surv_rows("survival-example: all", s$t, s$e), surv_rows("survival-example: A", s$t[s$g == "A"], s$e[s$g == "A"]), surv_rows("survival-example: by g", s$t, s$e, s$g), surv_rows("survival-example: by g within b", s$t, s$e, s$g, s$b), surv_rows("all alive", c(90,120,150), c(0,0,0)), surv_rows("all lost at one look", c(28,28,28), c(1,1,1)), surv_rows("lost and last seen the same day", c(28,28,28,56), c(1,0,1,0))) },
 landmark = list(c("30;28;33","36;35;38","40","0","34"), c("30;28;33","36;35;38","40","6","24"), c("20;20;20","20;20;20","30","0","30"), c("0;0;0","10;12;9","25","0","5")))
if (!file.exists("endometrial.csv")) { suppressMessages(library(brglm2)); data(endometrial, envir = environment()); write.csv(endometrial, "endometrial.csv", row.names = FALSE, quote = FALSE) }
}
emit(cases)
if (Sys.getenv("CHECK") != "") { # cross-checks against R's own functions
 f <- function(...) cat(..., "\n")
 x <- within(c(0,3,6,5,2), c(0,6,6,6,2), c(0,0,2,6,5), c(0,5,6,6,5)); f("rabbits-like exact p", x$p_exact)
 f("Fisher 56/70 v 48/80", within(56,70,48,80)$p_exact, fisher.test(matrix(c(56,14,48,32),2))$p.value)
 u <- aperm(UCBAdmissions, c(2,1,3)); w <- within(u[1,1,], u[1,1,]+u[1,2,], u[2,1,], u[2,1,]+u[2,2,]); f("UCB CMH", w$cmh, mantelhaen.test(UCBAdmissions, correct = FALSE)$statistic, "OR", w$or_mh, mantelhaen.test(UCBAdmissions)$estimate, "exact p", w$p_exact, mantelhaen.test(UCBAdmissions, exact = TRUE)$p.value)
 f("Newcombe a", unlist(within(56,70,48,80)[3:4])); f("power.prop.test .5 v .75 power .9", two_n(.5,.75,.9), power.prop.test(p1=.5,p2=.75,power=.9)$n, "n 50", two_power(50,.5,.75), power.prop.test(n=50,p1=.5,p2=.75)$power)
 if (requireNamespace("pwr", quietly = TRUE)) for (q in list(c(.75,.95),c(.75,.85),c(.5,.7),c(.9,.8))) f("arcsine method (pwr)", q, pwr::pwr.2p.test(h = pwr::ES.h(q[1],q[2]), power=.8)$n, "ours", two_n(q[1],q[2]))
 g <- rng(1); s <- 1; for (i in 1:10000) s <- (48271*s) %% 2147483647; f("minimal standard, 10,000th from 1:", s, "(ISO C++ says 399268537)")
 if (requireNamespace("brglm2", quietly = TRUE)) { library(brglm2); e <- read.csv("endometrial.csv"); f("brglm2", coef(glm(HG ~ NV + PI + EH, binomial, e, method = "brglmFit", type = "AS_mean", epsilon = 1e-12))) }
 # beta approximation of the plan against the exact mixture and, for three batches, the exact convolution
 mix <- function(N, n, A, B, rho, k) { mu <- qbeta((1:2000 - .5)/2000, A, B); s <- 1/rho - 1; nn <- diff(round(seq(0, n, length.out = k + 1))); mean(vapply(mu, function(m) { d <- 1; for (q in nn) d <- convolve(d, rev(exp(lchoose(q, 0:q) + lbeta(m*s + 0:q, (1-m)*s + q - 0:q) - lbeta(m*s, (1-m)*s))), type = "open"); sum(d[(N+1):length(d)]) }, 0)) }
 for (k in c(1,3)) { r <- plan(50,.9,.75,c(18,30,9,44),c(20,40,10,60),k); f("plan batches", k, "n", r$graft, "chance by beta", r$chance, "by mixture", mix(50, r$graft, r$mean*(4+r$n_eff), (1-r$mean)*(4+r$n_eff), r$rho, k)) }
 r <- plan(50,.9,.75,numeric(0),numeric(0)); f("prior only n", r$graft, r$chance, "by mixture", mix(50, r$graft, 3, 1, .1, 1))
}
