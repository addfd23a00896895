// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.DoubleSummaryStatistics;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.judging.MeasuredConditions;
import millrace.assessment.range.LoadSweepStudy;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureStays;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.logbook.RunSummary;
import millrace.quantity.ClosedInterval;
import millrace.quantity.TimeSpanSeconds;

/** Finds the conditions that the ranges of a run were measured under. */
final class MeasuredConditionsFinder {
  private MeasuredConditionsFinder() {}

  static Map<String, MeasuredConditions> ranges(
      RunSummary run, List<ReducedPoint> points, List<LoadSweepStudy> loads, List<Result> results) {
    OptionalDouble onForS =
        run.start().facts().onFor().stream().mapToDouble(TimeSpanSeconds::seconds).findFirst();
    Map<String, MeasuredConditions> known = new LinkedHashMap<>();
    TemperatureStays.byRange(points)
        .forEach((range, there) -> known.put(range, of(there, highestV(range, loads), onForS)));
    for (Result r : results) {
      r.range().ifPresent(range -> known.computeIfAbsent(range, n -> of(results, n)));
    }
    return known;
  }

  /** Conditions of a range without points, such as one with only a record over time. */
  private static MeasuredConditions of(List<Result> results, String range) {
    List<ResultConditions> at =
        results.stream().filter(r -> r.range().equals(Optional.of(range))).map(Result::at).toList();
    return new MeasuredConditions(
        span(
            at.stream()
                .flatMapToDouble(a -> a.number(ResultConditionKey.TEMPERATURE_DEGC).stream())),
        OptionalDouble.empty(),
        span(at.stream().flatMapToDouble(a -> a.number(ResultConditionKey.SUPPLY_V).stream())),
        Optional.empty());
  }

  private static MeasuredConditions of(
      List<ReducedPoint> there, OptionalDouble highestV, OptionalDouble onForS) {
    return new MeasuredConditions(
        span(
            there.stream().flatMap(p -> p.temperatureDegC().stream()).mapToDouble(Estimate::value)),
        highestV,
        span(there.stream().flatMapToDouble(p -> p.point().conditions().supplyV().stream())),
        onForS.isPresent()
            ? span(there.stream().mapToDouble(p -> onForS.getAsDouble() + p.timeS()))
            : Optional.empty());
  }

  private static Optional<ClosedInterval> span(DoubleStream values) {
    DoubleSummaryStatistics seen = values.summaryStatistics();
    return seen.getCount() == 0
        ? Optional.empty()
        : Optional.of(ClosedInterval.finite(seen.getMin(), seen.getMax()));
  }

  /** The largest voltage at which the current holds at every temperature, V. */
  private static OptionalDouble highestV(String range, List<LoadSweepStudy> loads) {
    return loads.stream()
        .filter(l -> l.range().equals(range))
        .mapToDouble(
            l ->
                l.curve().plateau().stream()
                    .mapToDouble(p -> Math.abs(p.voltageV().value()))
                    .max()
                    .orElse(0))
        .min();
  }
}
