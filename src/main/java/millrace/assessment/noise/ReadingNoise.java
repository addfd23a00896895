// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.noise;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.ToIntFunction;
import java.util.stream.IntStream;
import millrace.analysis.noise.LongRecord;
import millrace.analysis.noise.PointReadings;
import millrace.analysis.noise.ReferenceTemperatureCorrection;
import millrace.analysis.noise.ReferenceTemperatureCorrection.PointMean;
import millrace.analysis.noise.RunNoise;
import millrace.analysis.reduction.PooledNoise;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.assessment.tally.TimeSeriesColumns;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;

/**
 * The joint noise estimate of readings of points taken in the same way, supported by a record over
 * time if the logbook has one (methods.md 2.1, 5.10). Single-threaded.
 */
public final class ReadingNoise {
  private final RunReadingTallies tallies;
  private final NoiseRecords records;
  private final double referenceDegC;

  /**
   * Made for one run.
   *
   * @param tallies its readings
   * @param records the records over time that may support the estimate
   * @param referenceDegC T_ref, degC
   */
  public ReadingNoise(RunReadingTallies tallies, NoiseRecords records, double referenceDegC) {
    this.tallies = tallies;
    this.records = records;
    this.referenceDegC = referenceDegC;
  }

  /** The same noise, supported by the readings of its points if their times are known. */
  public PooledNoise behind(
      PooledNoise noise, Collection<PointReadingTally> members, ToIntFunction<Point> stay) {
    List<PointReadings> readings = new ArrayList<>();
    Set<String> names = new HashSet<>();
    Set<String> mute = new HashSet<>();
    Set<PointReadingTally> fallen = FallenPoints.of(noise, members, stay);
    ReferenceTemperatureCorrection toReference = toReference(members, fallen);
    ZeroScatter zeros = ZeroScatter.of(tallies.points(PointKind.ZERO), members);
    double nominal = 0;
    Optional<Point> any = Optional.empty();
    for (PointReadingTally tally : members) {
      Optional<TimeSeriesColumns> columns = tallies.readings(tally.point());
      if (columns.isEmpty() || unsteady(noise, tally)) {
        continue;
      }
      any = any.or(() -> Optional.of(tally.point()));
      nominal = Math.abs(tally.point().conditions().nominalA().orElse(0));
      for (MeasuredSignal signal :
          List.of(MeasuredSignal.CURRENT, MeasuredSignal.REVERSED_CURRENT)) {
        if (columns.get().has(signal)) {
          String name = tally.name() + (signal == MeasuredSignal.CURRENT ? "" : " reversed");
          double offset =
              offset(toReference, tally, signal)
                  - (signal == MeasuredSignal.CURRENT ? zeros.of(tally) : 0);
          readings.add(
              points(name, tally, columns.get(), signal, stay.applyAsInt(tally.point()))
                  .less(offset));
          names.add(name);
          if (fallen.contains(tally)) {
            mute.add(name);
          }
        }
      }
    }
    if (readings.isEmpty() || nominal == 0 || any.isEmpty()) {
      return noise;
    }
    double ppm = nominal * 1e-6;
    RunNoise alone = RunNoise.of(readings, mute, ppm, Optional.empty());
    Optional<LongRecord> beside =
        records.of(
            new NoiseRecords.Wanted(any.get(), alone.intervalS(), alone.spanS(), alone.stepPpm()));
    RunNoise found = beside.isPresent() ? RunNoise.of(readings, mute, ppm, beside) : alone;
    return noise.sharing(found.shared(), names);
  }

  private static boolean unsteady(PooledNoise noise, PointReadingTally tally) {
    return tally.of(MeasuredSignal.CURRENT).map(noise::unsteady).orElse(true);
  }

  private PointReadings points(
      String name,
      PointReadingTally tally,
      TimeSeriesColumns columns,
      MeasuredSignal signal,
      int stay) {
    PointConditions c = tally.point().conditions();
    double[] t = columns.timeS(signal);
    double[] y = columns.values(signal);
    int[] order =
        IntStream.range(0, t.length)
            .boxed()
            .sorted(Comparator.comparingDouble(i -> t[i]))
            .mapToInt(i -> i)
            .toArray();
    return new PointReadings(
        name,
        stay,
        Math.abs(degC(tally) - referenceDegC) <= TemperaturePoint.NEAR_K,
        condition(c) + " " + signal,
        Arrays.stream(order).mapToDouble(i -> t[i]).toArray(),
        Arrays.stream(order).mapToDouble(i -> y[i]).toArray());
  }

  /** What a kelvin makes of the current is no noise: points beyond the knee do not tell it. */
  private ReferenceTemperatureCorrection toReference(
      Collection<PointReadingTally> members, Set<PointReadingTally> fallen) {
    List<PointMean> means = new ArrayList<>();
    for (PointReadingTally tally : members) {
      OptionalDouble mean = tally.mean(MeasuredSignal.CURRENT);
      double degC = degC(tally);
      if (mean.isPresent() && !Double.isNaN(degC) && !fallen.contains(tally)) {
        PointConditions c = tally.point().conditions();
        means.add(new PointMean(condition(c), degC, LoadVoltages.of(tally), mean.getAsDouble()));
      }
    }
    return ReferenceTemperatureCorrection.of(
        means,
        new ReferenceTemperatureCorrection.Reference(referenceDegC, TemperaturePoint.NEAR_K));
  }

  /** With the leads exchanged the current has the other sign. */
  private static double offset(
      ReferenceTemperatureCorrection toReference, PointReadingTally tally, MeasuredSignal signal) {
    double offset = toReference.offset(degC(tally), LoadVoltages.of(tally));
    return signal == MeasuredSignal.CURRENT ? offset : -offset;
  }

  /** As measured at the unit, else in the chamber, else as asked for; not a number if unknown. */
  private static double degC(PointReadingTally tally) {
    OptionalDouble unit = tally.mean(MeasuredSignal.UNIT_TEMPERATURE);
    OptionalDouble degC = unit.isPresent() ? unit : tally.mean(MeasuredSignal.CHAMBER_TEMPERATURE);
    return degC.isPresent()
        ? degC.getAsDouble()
        : tally.point().conditions().temperatureDegC().orElse(Double.NaN);
  }

  private static String condition(PointConditions c) {
    return "%s %s %s %s".formatted(c.loadOhm(), terminal(c), c.supplyV(), c.setA());
  }

  /** With a load, the voltage is a consequence of it and is measured, so it is no setting. */
  private static OptionalDouble terminal(PointConditions c) {
    return c.loadOhm().isPresent() ? OptionalDouble.empty() : c.terminalVoltageV();
  }
}
