// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.drift.DriftChart;
import millrace.evidence.ConditionBox;
import millrace.evidence.ResultQuantity;
import millrace.logbook.BatchJudgedValue;

/**
 * Holds each unit of a batch against those before it while the batch is tested (methods.md 8.1).
 * Keeps the limits of its charts, nothing of a batch. Not thread-safe.
 */
public final class BatchDriftWatch {
  /** Units between two false signals of all charts together, on average. */
  private static final double FALSELY = 500;

  private final Map<Integer, DriftChart.Limits> limits = new HashMap<>();

  /** What values of several units have in common. */
  private record Limited(ResultQuantity quantity, Optional<String> range, ConditionBox when) {}

  /**
   * A quantity that drifts.
   *
   * @param quantity what is limited
   * @param range its range; empty for what is unit-wide
   * @param shift the shift, in the unit of the quantity
   * @param since serial number of the first unit after the shift
   * @param units units since then, that one included
   * @param unitsBefore units before it
   */
  public record Drift(
      ResultQuantity quantity,
      Optional<String> range,
      DriftChart.Shift shift,
      String since,
      int units,
      int unitsBefore) {}

  /**
   * What drifts at the last unit.
   *
   * @param batch the judged values of a batch, in the order of time
   * @return the largest shift in standard deviations first; empty if nothing drifts, or too few
   *     units were tested to tell
   */
  public List<Drift> of(List<BatchJudgedValue> batch) {
    Map<Limited, List<BatchJudgedValue>> series = new LinkedHashMap<>();
    batch.forEach(
        v ->
            series
                .computeIfAbsent(
                    new Limited(v.quantity(), v.range(), v.when()), k -> new ArrayList<>())
                .add(v));
    List<Drift> drifts = new ArrayList<>();
    series.forEach((what, values) -> drift(what, values, series.size()).ifPresent(drifts::add));
    drifts.sort((a, b) -> Double.compare(Math.abs(b.shift().inSd()), Math.abs(a.shift().inSd())));
    return drifts;
  }

  private Optional<Drift> drift(Limited what, List<BatchJudgedValue> values, int series) {
    DriftChart chart =
        new DriftChart(limits.computeIfAbsent(series, n -> DriftChart.Limits.of(n, FALSELY)));
    values.forEach(v -> chart.add(v.value()));
    return chart
        .shift()
        .map(
            s ->
                new Drift(
                    what.quantity(),
                    what.range(),
                    s,
                    values.get(s.since()).unit(),
                    values.size() - s.since(),
                    s.since()));
  }
}
