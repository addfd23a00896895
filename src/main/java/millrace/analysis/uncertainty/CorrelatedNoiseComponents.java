// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.CorrelatedNoise.Carried;
import millrace.evidence.ErrorDistribution;

/**
 * What noise that points share makes of an estimate, in place of their own (methods.md 5.10): the
 * weight of each point is its contribution over the size of its source.
 */
final class CorrelatedNoiseComponents {
  private final IdentityHashMap<CorrelatedNoise, Map<String, Double>> weights =
      new IdentityHashMap<>();
  private final List<CorrelatedNoise> order = new ArrayList<>();
  private final IdentityHashMap<CorrelatedNoise, String> units = new IdentityHashMap<>();
  private final Map<ErrorSource, Double> sources = new LinkedHashMap<>();
  private final List<Carried> carried = new ArrayList<>();

  private CorrelatedNoiseComponents(Estimate estimate) {
    for (int i = 0; i < estimate.size(); i++) {
      ErrorSource source = estimate.source(i);
      if (source.noise().isPresent() && source.value() > 0) {
        CorrelatedNoise noise = source.noise().get();
        if (!weights.containsKey(noise)) {
          order.add(noise);
          units.put(noise, source.unit());
        }
        weights
            .computeIfAbsent(noise, n -> new HashMap<>())
            .merge(source.instance(), estimate.part(i) / source.value(), Double::sum);
      }
    }
  }

  /** What noise makes of an estimate. */
  static CorrelatedNoiseComponents of(Estimate estimate) {
    CorrelatedNoiseComponents parts = new CorrelatedNoiseComponents(estimate);
    List.copyOf(parts.order).forEach(parts::carry);
    return parts;
  }

  private void carry(CorrelatedNoise noise) {
    Map<String, Double> each = weights.get(noise);
    Optional<Carried> found = noise.carried(each);
    if (found.isEmpty()) {
      weights.remove(noise);
      return;
    }
    carried.add(found.get());
    double sensitivity = Math.sqrt(each.values().stream().mapToDouble(w -> w * w).sum());
    ErrorSource together =
        new ErrorSource(
            found.get().component(),
            ErrorSource.POINT,
            "noise " + carried.size(),
            ErrorDistribution.NORMAL,
            OptionalDouble.empty(),
            found.get().u() / sensitivity,
            units.get(noise));
    sources.put(together, sensitivity);
  }

  /** Whether something else stands in place of a source. */
  boolean holds(ErrorSource source) {
    return source.noise().isPresent() && weights.containsKey(source.noise().get());
  }

  /** What stands in place, with its sensitivity. */
  Map<ErrorSource, Double> sources() {
    return sources;
  }

  List<Carried> carried() {
    return List.copyOf(carried);
  }

  /** The covariance of two, from the variances of their sum and their difference. */
  static double covariance(Estimate a, Estimate b) {
    return (variance(a.plus(b)) - variance(a.minus(b))) / 4;
  }

  /** The variance of an estimate, noise that points share with its mean variance. */
  static double variance(Estimate estimate) {
    CorrelatedNoiseComponents parts = new CorrelatedNoiseComponents(estimate);
    double sum = 0;
    for (CorrelatedNoise noise : List.copyOf(parts.order)) {
      Optional<Double> variance = noise.variance(parts.weights.get(noise));
      if (variance.isEmpty()) {
        parts.weights.remove(noise);
      }
      sum += variance.orElse(0.0);
    }
    double rest = estimate.standardUncertainty(s -> !parts.holds(s));
    return sum + rest * rest;
  }
}
