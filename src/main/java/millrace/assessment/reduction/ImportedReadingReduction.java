// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import millrace.analysis.reduction.PooledNoise;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.noise.ReadingNoise;
import millrace.assessment.noise.RepeatedPoints;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.PointReadingTally.StatedErrors;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;

/**
 * Reduces readings that were taken elsewhere: their errors are those stated in the file; if it
 * states none, their scatter.
 */
public final class ImportedReadingReduction implements ReadingReduction {
  private static final String COMMON = "common group";

  /** Least change that counts as another temperature, K. */
  private static final double MOVED_K = 1;

  private final Map<String, PooledNoise> noise = new HashMap<>();

  /** The largest common uncertainty stated in each group, A and as a ratio. */
  private final Map<String, Double> largestA = new HashMap<>();

  private final Map<String, Double> largestGain = new HashMap<>();

  /** Ranges without any stated error of the current. */
  private final Set<String> silent = new TreeSet<>();

  /**
   * A reduction for one run.
   *
   * @param tallies its points
   * @param slow joint noise estimate of its readings
   */
  public ImportedReadingReduction(List<PointReadingTally> tallies, ReadingNoise slow) {
    Set<String> stating = new HashSet<>();
    for (PointReadingTally tally : tallies) {
      String range = tally.point().conditions().range().orElse("");
      (statesAny(tally) ? stating : silent).add(range);
      StatedErrors stated = tally.stated().get(MeasuredSignal.CURRENT);
      if (stated != null) {
        largestA.merge(group(tally, stated), stated.common(), Math::max);
        largestGain.merge(group(tally, stated), stated.commonRelative(), Math::max);
      }
    }
    silent.removeAll(stating);
    Map<String, List<PointReadingTally>> pools =
        tallies.stream()
            .filter(t -> t.of(MeasuredSignal.CURRENT).isPresent())
            .collect(Collectors.groupingBy(ImportedReadingReduction::pool));
    pools.forEach(
        (name, members) ->
            noise.put(
                name,
                PooledNoise.of(
                    name,
                    members.stream().map(t -> t.of(MeasuredSignal.CURRENT).orElseThrow()).toList(),
                    0)));
    noise.replaceAll((name, pooled) -> repeated(name, pooled, pools.get(name)));
    Map<Long, Integer> stays = stays(tallies);
    noise.replaceAll(
        (name, pooled) -> slow.behind(pooled, pools.get(name), p -> stays.getOrDefault(p.id(), 0)));
  }

  /** A stay is a series of consecutive points at one temperature. */
  private static Map<Long, Integer> stays(List<PointReadingTally> tallies) {
    Map<Long, Integer> stays = new HashMap<>();
    int stay = 0;
    double lastDegC = Double.NaN;
    for (PointReadingTally tally : tallies) {
      PointConditions c = tally.point().conditions();
      double degC =
          tally.mean(MeasuredSignal.UNIT_TEMPERATURE).orElse(c.temperatureDegC().orElse(0));
      stay += Math.abs(degC - lastDegC) > MOVED_K ? 1 : 0;
      lastDegC = Math.abs(degC - lastDegC) <= MOVED_K ? lastDegC : degC;
      stays.put(tally.point().id(), stay);
    }
    return stays;
  }

  private static boolean statesAny(PointReadingTally tally) {
    StatedErrors stated = tally.stated().get(MeasuredSignal.CURRENT);
    return stated != null
        && (stated.u().isPresent() || stated.common() > 0 || stated.commonRelative() > 0);
  }

  /** The noise of a pool, at least the scatter of points repeated in a stay. */
  private static PooledNoise repeated(
      String name, PooledNoise noise, List<PointReadingTally> members) {
    RepeatedPoints repeats = new RepeatedPoints();
    int stay = 0;
    double lastDegC = Double.NaN;
    for (PointReadingTally tally : members) {
      PointConditions c = tally.point().conditions();
      double degC =
          tally.mean(MeasuredSignal.UNIT_TEMPERATURE).orElse(c.temperatureDegC().orElse(0));
      stay += Math.abs(degC - lastDegC) > MOVED_K ? 1 : 0;
      lastDegC = degC;
      if (c.loadOhm().isPresent() || c.terminalVoltageV().isPresent() || c.setA().isPresent()) {
        repeats.add(name, stay, tally, noise);
      }
    }
    return repeats.under(name, noise);
  }

  private static String pool(PointReadingTally tally) {
    StatedErrors stated = tally.stated().get(MeasuredSignal.CURRENT);
    return tally.point().conditions().range().orElse("")
        + (stated == null || stated.meterRange().isEmpty() ? "" : " " + stated.meterRange());
  }

  @Override
  public Optional<ReducedPoint> of(PointReadingTally tally) {
    Optional<ReadingStatistics> current = tally.of(MeasuredSignal.CURRENT);
    if (current.isEmpty()) {
      return Optional.empty();
    }
    Estimate amperes = currentA(tally, current.get());
    PooledNoise pooled = noise.get(pool(tally));
    return Optional.of(
        new ReducedPoint(
            tally.point(),
            tally.name(),
            0,
            tally.timeS(),
            amperes,
            voltageV(tally, amperes),
            temperatureDegC(tally),
            pooled != null && pooled.unsteady(current.get()),
            List.of()));
  }

  private Estimate currentA(PointReadingTally tally, ReadingStatistics current) {
    StatedErrors stated = tally.stated().get(MeasuredSignal.CURRENT);
    PooledNoise pooled = noise.get(pool(tally));
    Estimate mean = Estimate.exact(current.mean());
    if (stated != null && stated.u().isPresent()) {
      mean = mean.with(shaped(tally, stated), 1);
    } else if (pooled != null && pooled.standardDeviation() > 0) {
      // The scatter of repeated readings of the range applies to its single readings too.
      mean = pooled.mean(current, tally.name(), "A");
    }
    if (stated == null) {
      return mean;
    }
    String group = group(tally, stated);
    double ampere = largestA.getOrDefault(group, 0.0);
    double gain = largestGain.getOrDefault(group, 0.0);
    return mean.with(
            ErrorSource.normal("stated, common", COMMON, group, ampere, "A"),
            share(stated.common(), ampere))
        .with(
            ErrorSource.normal("stated, common gain", COMMON, group, gain, "1"),
            share(stated.commonRelative(), gain) * mean.value());
  }

  /**
   * One error per group, scaled for each point: errors of one group are fully correlated, even if
   * their sizes differ (methods.md 2.3).
   */
  private static double share(double u, double largest) {
    return largest > 0 ? u / largest : 0;
  }

  private static String group(PointReadingTally tally, StatedErrors stated) {
    return stated.group().isEmpty()
        ? tally.point().conditions().range().orElse("")
        : stated.group();
  }

  /** The point-wise error of a current, of the shape that the file states. */
  private static ErrorSource shaped(PointReadingTally tally, StatedErrors stated) {
    return new ErrorSource(
        "stated, of the point",
        ErrorSource.POINT,
        tally.name(),
        stated.shape().distribution(),
        stated.shape().degreesOfFreedom(),
        stated.u().orElseThrow(),
        "A");
  }

  private static ErrorSource pointWise(
      String what, PointReadingTally tally, double u, String unit) {
    return ErrorSource.normal(what, ErrorSource.POINT, tally.name(), u, unit);
  }

  private static Estimate voltageV(PointReadingTally tally, Estimate currentA) {
    PointConditions c = tally.point().conditions();
    OptionalDouble read = tally.mean(MeasuredSignal.VOLTAGE);
    if (read.isPresent()) {
      return stated(
          tally, MeasuredSignal.VOLTAGE, read.getAsDouble(), "stated, of the voltage", "V");
    } else if (c.terminalVoltageV().isPresent()) {
      return Estimate.exact(c.terminalVoltageV().getAsDouble());
    }
    return currentA.times(c.loadOhm().orElse(0));
  }

  private static Estimate stated(
      PointReadingTally tally, MeasuredSignal signal, double value, String what, String unit) {
    StatedErrors errors = tally.stated().get(signal);
    Estimate plain = Estimate.exact(value);
    return errors == null || errors.u().isEmpty()
        ? plain
        : plain.with(pointWise(what, tally, errors.u().getAsDouble(), unit), 1);
  }

  private static Optional<Estimate> temperatureDegC(PointReadingTally tally) {
    OptionalDouble read = tally.mean(MeasuredSignal.UNIT_TEMPERATURE);
    if (read.isPresent()) {
      return Optional.of(
          stated(
              tally,
              MeasuredSignal.UNIT_TEMPERATURE,
              read.getAsDouble(),
              "stated, of the temperature",
              "K"));
    }
    OptionalDouble asked = tally.point().conditions().temperatureDegC();
    return asked.isPresent() ? Optional.of(Estimate.exact(asked.getAsDouble())) : Optional.empty();
  }

  @Override
  public Optional<Estimate> meterPerHour(Point point, double fromS, double toS) {
    return Optional.empty();
  }

  @Override
  public List<String> notes() {
    List<String> notes = new ArrayList<>();
    silent.forEach(
        range ->
            notes.add(
                "range %s: no instrument uncertainty was stated with the readings, so their U holds what they scatter and nothing of the instruments"
                    .formatted(range)));
    if (noise.isEmpty()) {
      notes.add("at no point is there a current that is a number");
    }
    return notes;
  }
}
