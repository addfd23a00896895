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
import millrace.analysis.reduction.PointReductionInputs;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.bench.BenchFile;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.quantity.NumberText;

/**
 * The current meter's drift from the check standards of a run (methods.md 2.7). It is corrected in
 * meter ranges with a standard reading, and adds to the uncertainty of the other ranges.
 */
final class CheckStandards {
  private static final double PPM = 1e6;

  private final Map<String, MeterDrift> byRange = new LinkedHashMap<>();
  private final List<String> notes = new ArrayList<>();

  /** One standard in one range of the meter. */
  private record Where(String standard, String meterRange) {}

  /**
   * Sorts the check readings.
   *
   * @param bench states the current of the standards
   * @param tallies the points of the run
   * @param reduced gives the current of a point less its zero
   */
  CheckStandards(
      BenchFile bench,
      RunReadingTallies tallies,
      Function<PointReadingTally, Optional<Estimate>> reduced) {
    Map<Where, List<Look>> looks = new LinkedHashMap<>();
    for (PointReadingTally tally : tallies.points(PointKind.CHECK_STANDARD)) {
      String name = tally.point().settings().checkStandard().orElse("");
      Optional<BenchFile.Standard> standard = Optional.ofNullable(bench.standards().get(name));
      Optional<Estimate> read = tally.of(MeasuredSignal.CURRENT).flatMap(s -> reduced.apply(tally));
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

  private static Look look(PointReadingTally tally, Estimate read, BenchFile.Standard standard) {
    Look plain = Look.of(tally.timeS(), read, standard.currentA());
    ErrorSource moves =
        ErrorSource.within(
            "check standard",
            ErrorSource.TEMPERATURE_STEP,
            tally.name(),
            standard.stability(),
            "1");
    return new Look(plain.timeS(), plain.ratio().with(moves, 1));
  }

  private static String rangeOf(Point point) {
    return point.settings().currentMeter().range();
  }

  private void use(Where where, List<Look> looks, BenchFile bench) {
    if (looks.size() < 2) {
      notes.add(
          "the check standard '%s' was read once: the meter's drift cannot be computed from it"
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

  /** A meter that differs from its standard by more than both uncertainties is faulty. */
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
    return NumberText.significant(ratio * PPM, 2);
  }

  /** The drift that applies to the current of a point; empty if none is known. */
  Optional<PointReductionInputs.Drift> drift(Point point, double timeS) {
    MeterDrift own = byRange.get(rangeOf(point));
    String range = "current meter on " + rangeOf(point);
    return Optional.ofNullable(own)
        .or(this::widest)
        .map(seen -> new PointReductionInputs.Drift(seen, own != null, range, timeS));
  }

  private Optional<MeterDrift> widest() {
    return byRange.values().stream().max(Comparator.comparingDouble(MeterDrift::span));
  }

  /** The meter's drift over a record, a ratio per hour; empty without a check standard. */
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
