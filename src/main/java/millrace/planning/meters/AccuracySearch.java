// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.planning.LimitForecast;

/**
 * Inverts a forecast (methods.md 12): finds the accuracy of each instrument with which all limits
 * are decided together. Computed runs give the contribution of each part of a statement to u^2; the
 * room that a limit leaves is shared evenly among the parts that matter, after the parts that are
 * good enough at any accuracy; further computed runs correct the result until no part could be
 * worse. Used once; single-threaded.
 */
public final class AccuracySearch {
  /** The statement of a part that counts as free of error, as a share of the stated one. */
  private static final double NONE = 1e-4;

  /** A smaller share of what a limit allows is neglected. */
  private static final double WEIGHS = 1e-3;

  /** A smaller share of u^2 cannot be told from rounding. */
  private static final double ROUNDING = 1e-9;

  /** The number of corrections by computed runs. */
  private static final int ROUNDS = 8;

  private static final double NEAR = 0.004;

  /** What is still missed after the corrections gets better by this factor, so many times. */
  private static final double STEP = 0.95;

  private static final int STEPS = 12;

  /** The share of the largest U that is filled; the rest is for what the corrections leave. */
  private static final double FILLED = 0.998;

  private final AccuracyForecaster forecaster;
  private final StatedAccuracies stated;
  private Map<String, LimitForecast> perfect = Map.of();
  private final Map<AccuracyGroup, Map<String, Double>> added = new LinkedHashMap<>();

  /**
   * Creates a search.
   *
   * @param forecaster forecasts the results of the night
   * @param bench the bench whose statements give the proportions of the accuracies sought
   */
  public AccuracySearch(AccuracyForecaster forecaster, BenchFile bench) {
    this.forecaster = forecaster;
    this.stated = new StatedAccuracies(bench);
  }

  /**
   * Searches.
   *
   * @param own the user's own bench; empty where none was named
   * @return the needed accuracies
   */
  public MetersPlan plan(Optional<BenchFile> own) {
    perfect = byKey(forecaster.limits(stated.with(all(NONE))));
    weigh();
    Map<AccuracyGroup, Double> factors = shared();
    Map<String, LimitForecast> limits = corrected(factors);
    List<AccuracyNeed> needs = new ArrayList<>();
    List<AccuracyGroup> idle = new ArrayList<>();
    for (AccuracyGroup group : stated.groups()) {
      if (added.getOrDefault(group, Map.of()).isEmpty()) {
        idle.add(group);
      } else {
        needs.add(need(group, factors, limits));
      }
    }
    List<LimitForecast> impossible = perfect.values().stream().filter(l -> !l.isDecided()).toList();
    return new MetersPlan(
        needs, idle, List.copyOf(limits.values()), impossible, own.map(this::own));
  }

  private Map<AccuracyGroup, Double> all(double factor) {
    Map<AccuracyGroup, Double> factors = new HashMap<>();
    stated.groups().forEach(g -> factors.put(g, factor));
    return factors;
  }

  private static Map<String, LimitForecast> byKey(List<LimitForecast> limits) {
    return limits.stream()
        .collect(Collectors.toMap(LimitForecast::key, l -> l, (a, b) -> a, LinkedHashMap::new));
  }

  /**
   * The contribution of each part, as stated, to the variance of each limit that can be decided.
   */
  private void weigh() {
    for (AccuracyGroup group : stated.groups()) {
      Map<AccuracyGroup, Double> factors = all(NONE);
      factors.put(group, 1.0);
      Map<String, Double> more = new LinkedHashMap<>();
      byKey(forecaster.limits(stated.with(factors)))
          .forEach(
              (key, limit) -> {
                double variance = variance(limit) - variance(perfect.get(key));
                if (isDecidable(key) && weighs(group, limit, variance)) {
                  more.put(key, variance);
                }
              });
      added.put(group, more);
    }
  }

  /** A part that hardly counts as stated may count when it is as poor as the search tries. */
  private static boolean weighs(AccuracyGroup group, LimitForecast limit, double variance) {
    return variance > ROUNDING * variance(limit)
        && variance * group.most() * group.most() > WEIGHS * most(limit);
  }

  private boolean isDecidable(String key) {
    return Optional.ofNullable(perfect.get(key))
        .filter(l -> l.isDecided() && l.largestU().isPresent())
        .isPresent();
  }

  private static double variance(LimitForecast limit) {
    return limit.uncertainty().map(u -> u.standard() * u.standard()).orElse(0.0);
  }

  /** The largest variance with which a limit is decided, for the same k. */
  private static double most(LimitForecast limit) {
    double u =
        FILLED * limit.largestU().orElse(0.0) / limit.uncertainty().orElseThrow().coverageFactor();
    return u * u;
  }

  /** Factors that share the room of each limit evenly, the tightest limit first. */
  private Map<AccuracyGroup, Double> shared() {
    Map<AccuracyGroup, Double> factors = new LinkedHashMap<>();
    added.forEach((group, more) -> factors.put(group, more.isEmpty() ? 1 : group.most()));
    for (int i = 0; i <= perfect.size(); i++) {
      Optional<String> tightest =
          perfect.keySet().stream()
              .filter(key -> isDecidable(key) && excess(key, factors) > 1 + 1e-9)
              .max((a, b) -> Double.compare(excess(a, factors), excess(b, factors)));
      if (tightest.isEmpty()) {
        break;
      }
      level(tightest.get(), factors);
    }
    return factors;
  }

  private double room(String key) {
    LimitForecast limit = perfect.get(key);
    return Math.max(most(limit) - variance(limit), 1e-12 * most(limit));
  }

  private double part(String key, AccuracyGroup group, double factor) {
    return factor * factor * added.getOrDefault(group, Map.of()).getOrDefault(key, 0.0);
  }

  private double excess(String key, Map<AccuracyGroup, Double> factors) {
    return factors.entrySet().stream().mapToDouble(e -> part(key, e.getKey(), e.getValue())).sum()
        / room(key);
  }

  /** No part adds more than the level at which all parts together fill the room. */
  private void level(String key, Map<AccuracyGroup, Double> factors) {
    double low = 0;
    double high = room(key);
    for (int i = 0; i < 60; i++) {
      double level = (low + high) / 2;
      double sum =
          factors.entrySet().stream()
              .mapToDouble(e -> Math.min(level, part(key, e.getKey(), e.getValue())))
              .sum();
      low = sum <= room(key) ? level : low;
      high = sum <= room(key) ? high : level;
    }
    double level = low;
    factors.replaceAll(
        (group, factor) -> {
          double part = part(key, group, factor);
          return part > level ? factor * Math.sqrt(level / part) : factor;
        });
  }

  /** Computed runs give the factor by which all parts of a limit may grow or must shrink. */
  private Map<String, LimitForecast> corrected(Map<AccuracyGroup, Double> factors) {
    Map<String, LimitForecast> limits = byKey(forecaster.limits(stated.with(factors)));
    for (int i = 0; i < ROUNDS; i++) {
      double moved = 0;
      for (Map.Entry<AccuracyGroup, Double> e : factors.entrySet()) {
        double by = mayGrow(e.getKey(), limits);
        double next = Math.min(e.getKey().most(), e.getValue() * by);
        moved = Math.max(moved, Math.abs(next / e.getValue() - 1));
        e.setValue(next);
      }
      limits = byKey(forecaster.limits(stated.with(factors)));
      if (moved < NEAR && missed(limits).isEmpty()) {
        return limits;
      }
    }
    return decided(factors, limits);
  }

  /**
   * The middle draw of a limit may be another one at each accuracy, so that the corrections pass
   * over the figure that decides: what a missed limit depends on gets better by small steps.
   */
  private Map<String, LimitForecast> decided(
      Map<AccuracyGroup, Double> factors, Map<String, LimitForecast> from) {
    Map<String, LimitForecast> limits = from;
    for (int i = 0; i < STEPS && !missed(limits).isEmpty(); i++) {
      Set<String> missed = missed(limits);
      factors.replaceAll(
          (group, factor) ->
              Collections.disjoint(added.getOrDefault(group, Map.of()).keySet(), missed)
                  ? factor
                  : factor * STEP);
      limits = byKey(forecaster.limits(stated.with(factors)));
    }
    return limits;
  }

  /** The limits that instruments without errors decide, and these do not. */
  private Set<String> missed(Map<String, LimitForecast> limits) {
    return limits.entrySet().stream()
        .filter(l -> isDecidable(l.getKey()) && !l.getValue().isDecided())
        .map(Map.Entry::getKey)
        .collect(Collectors.toSet());
  }

  private double mayGrow(AccuracyGroup group, Map<String, LimitForecast> limits) {
    return added.getOrDefault(group, Map.of()).keySet().stream()
        .mapToDouble(key -> mayGrow(key, limits))
        .min()
        .orElse(1);
  }

  /** The factor on all statements at which a limit is just decided. */
  private double mayGrow(String key, Map<String, LimitForecast> limits) {
    LimitForecast now = limits.get(key);
    if (now == null || now.uncertainty().isEmpty() || now.largestU().isEmpty()) {
      return 0.5;
    }
    double rest = variance(perfect.get(key));
    double parts = Math.max(variance(now) - rest, 1e-12 * rest);
    return Math.sqrt(Math.max(most(now) - rest, 1e-3 * parts) / parts);
  }

  private AccuracyNeed need(
      AccuracyGroup group, Map<AccuracyGroup, Double> factors, Map<String, LimitForecast> limits) {
    double factor = factors.getOrDefault(group, 1.0);
    Map<String, Double> more = added.getOrDefault(group, Map.of());
    List<LimitForecast> used = more.keySet().stream().map(limits::get).toList();
    Optional<LimitForecast> binding =
        more.keySet().stream()
            .filter(key -> factor < group.most() * (1 - NEAR))
            .min((a, b) -> Double.compare(mayGrow(a, limits), mayGrow(b, limits)))
            .map(limits::get);
    return new AccuracyNeed(
        group, StatedAccuracies.scaled(group.shape(), group.kind(), factor), factor, used, binding);
  }

  private MetersPlan.Own own(BenchFile bench) {
    List<MetersPlan.Alone> alone = new ArrayList<>();
    Map<RoleName, String> names = new LinkedHashMap<>();
    for (AccuracyGroup group : stated.groups()) {
      bench.in(group.role()).ifPresent(e -> names.putIfAbsent(group.role(), e.name()));
    }
    names.forEach(
        (role, name) -> {
          Map<AccuracyGroup, Double> factors = all(NONE);
          stated.groups().stream().filter(g -> g.role() == role).forEach(g -> factors.put(g, 1.0));
          alone.add(new MetersPlan.Alone(role.text(), name, open(stated.with(factors))));
        });
    return new MetersPlan.Own(forecaster.limits(bench), alone);
  }

  /** The limits that stay open although instruments without error decide them. */
  private List<LimitForecast> open(BenchFile bench) {
    return forecaster.limits(bench).stream()
        .filter(l -> isDecidable(l.key()) && !l.isDecided())
        .toList();
  }
}
