// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.linearity.RangeRatio;
import millrace.analysis.temperature.RangeTracking;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.reduction.ReducedPoint;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;

/** Results of neighbouring ranges: ratio and tracking. */
public final class RangePairResults {
  private final JudgementBasis basis;
  private final Map<String, String> meterRanges = new LinkedHashMap<>();
  private final Map<String, Double> nominals = new LinkedHashMap<>();

  /**
   * Made for one run.
   *
   * @param basis the basis of its judgement
   * @param points its points, reduced
   */
  public RangePairResults(JudgementBasis basis, List<ReducedPoint> points) {
    this.basis = basis;
    for (ReducedPoint p : points) {
      meterRanges.putIfAbsent(p.range(), p.point().settings().currentMeter().range());
      nominals.putIfAbsent(p.range(), p.nominalA());
    }
  }

  /**
   * The results of neighbouring ranges.
   *
   * @param studies one per range, in the order of the ranges
   * @return ratio of each pair, and tracking if both were measured at several temperatures
   */
  public List<Result> of(List<RangeTemperatureStudy> studies) {
    List<Result> results = new ArrayList<>();
    for (int i = 1; i < studies.size(); i++) {
      RangeTemperatureStudy a = studies.get(i - 1);
      RangeTemperatureStudy b = studies.get(i);
      ratio(a, b).ifPresent(results::add);
      if (a.study().points().size() > 1 && b.study().points().size() > 1) {
        results.add(
            RangeTracking.of(
                new RangeTracking.Pair(
                    a.range(), a.study().points(), b.range(), b.study().points()),
                basis.referenceDegC(),
                basis.coverage(),
                List.of()));
      }
    }
    return results;
  }

  /** Only if one range of the meter measured both (methods.md 4.3). */
  private Optional<Result> ratio(RangeTemperatureStudy a, RangeTemperatureStudy b) {
    String meter = meterRanges.getOrDefault(a.range(), "");
    boolean one = !meter.isEmpty() && meter.equals(meterRanges.get(b.range()));
    return one
        ? Optional.of(
            RangeRatio.of(side(a, meter), side(b, meter), ResultConditions.NONE, basis.coverage()))
        : Optional.empty();
  }

  private RangeRatio.Side side(RangeTemperatureStudy study, String meter) {
    List<Estimate> currents =
        study.study().points().stream().map(TemperaturePoint::currentA).toList();
    Estimate current =
        study.study().visits() > 0 ? study.study().referenceA() : Estimate.mean(currents);
    return new RangeRatio.Side(
        study.range(), nominals.getOrDefault(study.range(), 0.0), meter, current);
  }
}
