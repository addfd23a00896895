// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeSet;
import millrace.evidence.ErrorDistribution;

/**
 * Draws every source once per trial and moves the inputs by it (JCGM 101:2008, 6.4; methods.md
 * 2.5). A normal error whose size rests on few degrees of freedom is drawn from the t distribution
 * (6.4.9); errors that were sized together share the draw of their size. Immutable once made, and
 * thread-safe; chance comes with each call.
 */
final class Draws {
  private final ErrorDistribution[] distributions;
  private final int[] poolOf;
  private final double[] poolDegrees;
  private final double[] centres;
  private final int[][] indices;
  private final double[][] parts;
  private final List<Shared> sharing;

  /** Noise that points share: the places of their sources, and the sizes of these. */
  @SuppressWarnings("ArrayRecordComponent") // read only here, never compared
  private record Shared(CorrelatedNoise.Sampler sampler, int[] places, double[] sizes) {}

  Draws(List<Estimate> inputs) {
    TreeSet<ErrorSource> all = new TreeSet<>();
    for (Estimate input : inputs) {
      for (int k = 0; k < input.size(); k++) {
        all.add(input.source(k));
      }
    }
    List<ErrorSource> sources = new ArrayList<>(all);
    this.distributions =
        sources.stream().map(ErrorSource::distribution).toArray(ErrorDistribution[]::new);
    Map<String, Integer> pools = new HashMap<>();
    List<Double> degrees = new ArrayList<>();
    this.poolOf = new int[sources.size()];
    for (int i = 0; i < poolOf.length; i++) {
      poolOf[i] = pool(sources.get(i), pools, degrees);
    }
    this.sharing = shared(sources);
    this.poolDegrees = degrees.stream().mapToDouble(Double::doubleValue).toArray();
    this.centres = inputs.stream().mapToDouble(Estimate::value).toArray();
    this.indices = new int[centres.length][];
    this.parts = new double[centres.length][];
    Map<ErrorSource, Integer> place = new HashMap<>();
    sources.forEach(s -> place.put(s, place.size()));
    for (int i = 0; i < centres.length; i++) {
      index(inputs.get(i), i, place);
    }
  }

  private static List<Shared> shared(List<ErrorSource> sources) {
    Map<CorrelatedNoise, List<Integer>> sharing = new LinkedHashMap<>();
    for (int i = 0; i < sources.size(); i++) {
      int place = i;
      sources
          .get(i)
          .noise()
          .ifPresent(n -> sharing.computeIfAbsent(n, x -> new ArrayList<>()).add(place));
    }
    List<Shared> shared = new ArrayList<>();
    sharing.forEach(
        (noise, which) -> {
          int[] places = which.stream().mapToInt(Integer::intValue).toArray();
          double[] sizes = which.stream().mapToDouble(i -> sources.get(i).value()).toArray();
          noise
              .sampler(which.stream().map(i -> sources.get(i).instance()).toList())
              .ifPresent(sampler -> shared.add(new Shared(sampler, places, sizes)));
        });
    return shared;
  }

  private static int pool(ErrorSource source, Map<String, Integer> pools, List<Double> degrees) {
    if (source.degreesOfFreedom().isEmpty()) {
      return -1;
    }
    String key =
        String.join("\u0000", source.component(), source.group(), source.unit(), source.pool())
            + source.degreesOfFreedom();
    return pools.computeIfAbsent(
        key,
        k -> {
          degrees.add(source.degreesOfFreedom().getAsDouble());
          return degrees.size() - 1;
        });
  }

  private void index(Estimate input, int i, Map<ErrorSource, Integer> place) {
    indices[i] = new int[input.size()];
    parts[i] = new double[input.size()];
    for (int k = 0; k < input.size(); k++) {
      indices[i][k] = place.getOrDefault(input.source(k), 0);
      parts[i][k] = input.part(k);
    }
  }

  /** One set of inputs as they might have been. */
  double[] next(SplittableRandom random) {
    double[] size = new double[poolDegrees.length];
    for (int p = 0; p < size.length; p++) {
      size[p] = Math.sqrt(poolDegrees[p] / chiSquared(poolDegrees[p], random));
    }
    double[] z = new double[poolOf.length];
    for (int s = 0; s < z.length; s++) {
      z[s] = standardized(distributions[s], random) * (poolOf[s] < 0 ? 1 : size[poolOf[s]]);
    }
    share(z, random);
    double[] drawn = new double[centres.length];
    for (int i = 0; i < drawn.length; i++) {
      drawn[i] = moved(centres[i], indices[i], parts[i], z);
    }
    return drawn;
  }

  private static double moved(double centre, int[] indices, double[] parts, double[] z) {
    double moved = centre;
    for (int k = 0; k < indices.length; k++) {
      moved += parts[k] * z[indices[k]];
    }
    return moved;
  }

  /** Noise that points share is drawn for all of them at once. */
  private void share(double[] z, SplittableRandom random) {
    for (Shared shared : sharing) {
      double[] errors = shared.sampler.next(random);
      for (int i = 0; i < errors.length; i++) {
        z[shared.places[i]] = errors[i] / shared.sizes[i];
      }
    }
  }

  /** A draw of mean 0 and standard deviation 1. */
  private static double standardized(ErrorDistribution distribution, SplittableRandom random) {
    return switch (distribution) {
      case RECTANGULAR -> uniform(random);
      case TRIANGULAR -> (uniform(random) + uniform(random)) / Math.sqrt(2);
      case ARC_SINE -> Math.sqrt(2) * Math.sin(2 * Math.PI * random.nextDouble());
      case NORMAL, STUDENT_T -> random.nextGaussian();
    };
  }

  /** A rectangular draw of standard deviation 1. */
  private static double uniform(SplittableRandom random) {
    return Math.sqrt(3) * (2 * random.nextDouble() - 1);
  }

  /**
   * A chi-squared draw, by the gamma method of Marsaglia and Tsang, ACM Trans. Math. Softw. 26
   * (2000) 363 (from memory).
   */
  static double chiSquared(double degrees, SplittableRandom random) {
    double shape = degrees / 2;
    if (shape < 1) {
      return 2 * gamma(shape + 1, random) * Math.pow(random.nextDouble(), 1 / shape);
    }
    return 2 * gamma(shape, random);
  }

  private static double gamma(double shape, SplittableRandom random) {
    double d = shape - 1.0 / 3;
    double c = 1 / Math.sqrt(9 * d);
    while (true) {
      double x = random.nextGaussian();
      double v = Math.pow(1 + c * x, 3);
      double u = 1 - random.nextDouble();
      if (v > 0 && Math.log(u) < 0.5 * x * x + d - d * v + d * Math.log(v)) {
        return d * v;
      }
    }
  }
}
