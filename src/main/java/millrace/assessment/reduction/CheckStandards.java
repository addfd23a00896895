// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.analysis.reduction.MeterDrift;
import millrace.analysis.reduction.MeterDrift.Look;
import millrace.analysis.reduction.PointFacts;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Source;
import millrace.assessment.tally.MeterSettings;
import millrace.assessment.tally.PointTally;
import millrace.assessment.tally.Tallies;
import millrace.bench.BenchFile;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Signal;
import millrace.quantity.Numbers;

/**
 * What the check standards of a run tell of the current meter's drift (methods.md 2.7): it is taken
 * off in the ranges of the meter in which a standard was read, and widens the others.
 */
final class CheckStandards {
  /** Under which name a point keeps which standard it read. */
  static final String STANDARD = "check standard";

  private static final double PPM = 1e6;

  private final Map<String, MeterDrift> byRange = new LinkedHashMap<>();
  private final List<String> notes = new ArrayList<>();

  /** One standard in one range of the meter. */
  private record Where(String standard, String meterRange) {}

  /**
   * Sorts the looks.
   *
   * @param bench says what the standards drive
   * @param tallies the points of the run
   * @param reduced gives the current that a point read, its zero taken off
   */
  CheckStandards(
      BenchFile bench, Tallies tallies, Function<PointTally, Optional<Estimate>> reduced) {
    Map<Where, List<Look>> looks = new LinkedHashMap<>();
    for (PointTally tally : tallies.points(PointKind.CHECK_STANDARD)) {
      String name = tally.point().settings().getOrDefault(STANDARD, "");
      Optional<BenchFile.Standard> standard = Optional.ofNullable(bench.standards().get(name));
      Optional<Estimate> read = tally.of(Signal.CURRENT).flatMap(s -> reduced.apply(tally));
      if (standard.isPresent() && read.isPresent()) {
        looks
            .computeIfAbsent(new Where(name, rangeOf(tally.point())), w -> new ArrayList<>())
            .add(look(tally, read.get(), standard.get()));
      }
    }
    looks.entrySet().stream()
        .sorted(Comparator.comparingInt(e -> -e.getValue().size()))
        .forEach(e -> use(e.getKey(), e.getValue(), bench));
  }

  private static Look look(PointTally tally, Estimate read, BenchFile.Standard standard) {
    Look plain = Look.of(tally.timeS(), read, standard.currentA());
    Source moves =
        Source.within(
            "check standard", Source.TEMPERATURE_STEP, tally.name(), standard.stability(), "1");
    return new Look(plain.timeS(), plain.ratio().with(moves, 1));
  }

  private static String rangeOf(Point point) {
    return MeterSettings.range(point, Signal.CURRENT);
  }

  private void use(Where where, List<Look> looks, BenchFile bench) {
    if (looks.size() < 2) {
      notes.add(
          "the check standard '%s' was read once: the meter's drift is not told by it"
              .formatted(where.standard()));
    } else if (!byRange.containsKey(where.meterRange())) {
      MeterDrift drift = MeterDrift.of("current meter on " + where.meterRange(), looks);
      byRange.put(where.meterRange(), drift);
      notes.add(
          "the check standard '%s', read %s times, tells that the current meter moved by %s ppm on its range %s: taken off there, and widening what was read on other ranges"
              .formatted(where.standard(), drift.looks(), ppm(drift.span()), where.meterRange()));
      offAsAWhole(where.standard(), drift, bench.standards().get(where.standard()));
    }
  }

  /** A meter that is off its standard by more than both uncertainties is out of order. */
  private void offAsAWhole(String name, MeterDrift drift, BenchFile.Standard standard) {
    double relative = standard.standardUncertaintyA() / Math.abs(standard.currentA());
    double u = Math.hypot(drift.mean().standardUncertainty(), relative);
    if (Math.abs(drift.mean().value()) > 2 * u) {
      notes.add(
          "the current meter reads the check standard '%s' %s ppm off what it drives, beyond the %s ppm that both are known to: one of the two needs its calibration looked at"
              .formatted(name, ppm(drift.mean().value()), ppm(2 * u)));
    }
  }

  private static String ppm(double ratio) {
    return Numbers.significant(ratio * PPM, 2);
  }

  /** What they tell of the current of a point; empty if nothing. */
  Optional<PointFacts.Drift> drift(Point point, double timeS) {
    MeterDrift own = byRange.get(rangeOf(point));
    String range = "current meter on " + rangeOf(point);
    return Optional.ofNullable(own)
        .or(this::widest)
        .map(seen -> new PointFacts.Drift(seen, own != null, range, timeS));
  }

  private Optional<MeterDrift> widest() {
    return byRange.values().stream().max(Comparator.comparingDouble(MeterDrift::span));
  }

  /** The meter's drift over a record, a ratio per hour; empty if no standard tells it. */
  Optional<Estimate> perHour(Point point, double fromS, double toS) {
    MeterDrift own = byRange.get(rangeOf(point));
    if (own != null) {
      return Optional.of(own.perHour(fromS, toS));
    }
    String range = "current meter on " + rangeOf(point);
    return widest().map(d -> d.perHourElsewhere(fromS, toS, range));
  }

  List<String> notes() {
    return notes;
  }
}
