// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.assessment.screening.WithdrawnPoints;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointKind;
import millrace.logbook.RunReader;

/**
 * The scatter of the readings of an earlier run within its points: that of zeros belongs to the
 * meter, the excess of readings at a current belongs to the unit. The contribution of rounding to
 * steps is subtracted. Immutable, thread-safe.
 *
 * @param noise of readings of one line cycle, A or V, by signal and meter range
 * @param white of the unit's current, ratio of nominal at 1 s, by range
 */
record EarlierScatter(Map<String, Double> noise, Map<String, Double> white) {
  static final EarlierScatter NONE = new EarlierScatter(Map.of(), Map.of());

  private static final double ROUNDING = 12;

  /** Copies the maps. */
  EarlierScatter {
    noise = Map.copyOf(noise);
    white = Map.copyOf(white);
  }

  /** Variances pooled with their degrees of freedom, by name. */
  private static final class Pools {
    private final Map<String, Double> sums = new HashMap<>();
    private final Map<String, Double> free = new HashMap<>();

    void add(String name, double variance, double degrees) {
      sums.merge(name, variance * degrees, Double::sum);
      free.merge(name, degrees, Double::sum);
    }

    Pools and(Pools other) {
      Pools both = new Pools();
      for (Pools each : List.of(this, other)) {
        each.sums.forEach((k, sum) -> both.sums.merge(k, sum, Double::sum));
        each.free.forEach((k, n) -> both.free.merge(k, n, Double::sum));
      }
      return both;
    }

    Map<String, Double> deviations() {
      Map<String, Double> deviations = new HashMap<>();
      sums.forEach((k, sum) -> deviations.put(k, Math.sqrt(Math.max(0, sum / free.get(k)))));
      return deviations;
    }
  }

  /**
   * Computes the scatter of a run.
   *
   * @param reader the run
   * @param lineHz frequency of the line, Hz
   * @return the scatter
   */
  static EarlierScatter of(RunReader reader, double lineHz) {
    Set<Long> withdrawn = WithdrawnPoints.of(reader, new ArrayList<>());
    RunReadingTallies tallies = RunReadingTallies.of(reader, withdrawn);
    List<PointReadingTally> measured = tallies.points(PointKind.MEASURE);
    Map<String, Double> own = meters(measured, tallies.points(PointKind.ZERO));
    Map<String, Double> white = unit(measured, own, lineHz);
    own.putAll(meters(measured, MeasuredSignal.VOLTAGE).deviations());
    return new EarlierScatter(own, white);
  }

  /**
   * Of a current the zeros tell it. Where they scatter more than the readings of the current, they
   * do so by chance: then both tell it together, and the unit adds nothing.
   */
  private static Map<String, Double> meters(
      List<PointReadingTally> measured, List<PointReadingTally> zeros) {
    Pools ofCurrents = meters(measured, MeasuredSignal.CURRENT);
    Pools ofZeros = meters(zeros, MeasuredSignal.CURRENT);
    Map<String, Double> together = ofCurrents.and(ofZeros).deviations();
    Map<String, Double> own = new HashMap<>(ofCurrents.deviations());
    ofZeros
        .deviations()
        .forEach((k, s) -> own.put(k, s > own.getOrDefault(k, s) ? together.get(k) : s));
    return own;
  }

  private static Pools meters(List<PointReadingTally> tallies, MeasuredSignal signal) {
    Pools pools = new Pools();
    for (PointReadingTally tally : tallies) {
      OptionalDouble cycles = tally.point().meter(signal).lineCycles();
      OptionalDouble variance = variance(tally, signal);
      if (cycles.isPresent() && variance.isPresent()) {
        pools.add(
            key(signal, tally.point().meter(signal).range()),
            variance.getAsDouble() * cycles.getAsDouble(),
            degrees(tally, signal));
      }
    }
    return pools;
  }

  /** Per second, and relative to the nominal current. */
  private static Map<String, Double> unit(
      List<PointReadingTally> tallies, Map<String, Double> own, double lineHz) {
    Pools pools = new Pools();
    MeasuredSignal signal = MeasuredSignal.CURRENT;
    for (PointReadingTally tally : tallies) {
      OptionalDouble cycles = tally.point().meter(signal).lineCycles();
      OptionalDouble variance = variance(tally, signal);
      OptionalDouble nominal = tally.point().conditions().nominalA();
      double meter = own.getOrDefault(key(signal, tally.point().meter(signal).range()), 0.0);
      if (cycles.isPresent() && variance.isPresent() && nominal.isPresent()) {
        double rest = variance.getAsDouble() - meter * meter / cycles.getAsDouble();
        double perS = rest * cycles.getAsDouble() / lineHz;
        pools.add(
            tally.point().conditions().range().orElse(""),
            perS / (nominal.getAsDouble() * nominal.getAsDouble()),
            degrees(tally, signal));
      }
    }
    return pools.deviations();
  }

  private static double degrees(PointReadingTally tally, MeasuredSignal signal) {
    return tally.of(signal).map(readings -> readings.n() - 1.0).orElse(0.0);
  }

  private static OptionalDouble variance(PointReadingTally tally, MeasuredSignal signal) {
    double step = tally.point().meter(signal).resolution().orElse(0);
    return tally
        .of(signal)
        .filter(readings -> readings.n() > 1)
        .map(readings -> readings.sumOfSquares() / (readings.n() - 1) - step * step / ROUNDING)
        .map(OptionalDouble::of)
        .orElse(OptionalDouble.empty());
  }

  private static String key(MeasuredSignal signal, String set) {
    return signal.text() + " " + set;
  }

  /** Of readings of one line cycle, A or V; empty where none is known. */
  Optional<Double> noiseOf(MeasuredSignal signal, String set) {
    return Optional.ofNullable(noise.get(key(signal, set)));
  }

  /** Of the unit's current in a range, ratio of nominal at 1 s; empty where none is known. */
  Optional<Double> whiteOf(String range) {
    return Optional.ofNullable(white.get(range));
  }
}
