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
import millrace.analysis.uncertainty.SharedNoise.Carried;
import millrace.evidence.Distribution;

/**
 * What noise that points share makes of an estimate, in place of their own (methods.md 5.10): the
 * weight of each point is its contribution over the size of its source.
 */
final class SharedParts {
  private final IdentityHashMap<SharedNoise, Map<String, Double>> weights = new IdentityHashMap<>();
  private final List<SharedNoise> order = new ArrayList<>();
  private final IdentityHashMap<SharedNoise, String> units = new IdentityHashMap<>();
  private final Map<Source, Double> sources = new LinkedHashMap<>();
  private final List<Carried> carried = new ArrayList<>();

  private SharedParts(Estimate estimate) {
    for (int i = 0; i < estimate.size(); i++) {
      Source source = estimate.source(i);
      if (source.noise().isPresent() && source.value() > 0) {
        SharedNoise noise = source.noise().get();
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
  static SharedParts of(Estimate estimate) {
    SharedParts parts = new SharedParts(estimate);
    List.copyOf(parts.order).forEach(parts::carry);
    return parts;
  }

  private void carry(SharedNoise noise) {
    Map<String, Double> each = weights.get(noise);
    Optional<Carried> found = noise.carried(each);
    if (found.isEmpty()) {
      weights.remove(noise);
      return;
    }
    carried.add(found.get());
    double sensitivity = Math.sqrt(each.values().stream().mapToDouble(w -> w * w).sum());
    Source together =
        new Source(
            found.get().component(),
            Source.POINT,
            "noise " + carried.size(),
            Distribution.NORMAL,
            OptionalDouble.empty(),
            found.get().u() / sensitivity,
            units.get(noise));
    sources.put(together, sensitivity);
  }

  /** Whether something else stands in place of a source. */
  boolean holds(Source source) {
    return source.noise().isPresent() && weights.containsKey(source.noise().get());
  }

  /** What stands in place, with its sensitivity. */
  Map<Source, Double> sources() {
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
    SharedParts parts = new SharedParts(estimate);
    double sum = 0;
    for (SharedNoise noise : List.copyOf(parts.order)) {
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
