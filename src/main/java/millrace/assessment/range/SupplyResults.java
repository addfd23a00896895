// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.load.SupplyRegulation;
import millrace.analysis.load.SupplyRegulation.SupplyPoint;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureStays;
import millrace.evidence.PointConditions;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;

/** Supply regulation and the leakage with the source off. */
public final class SupplyResults {
  private SupplyResults() {}

  /** Supply regulation at each load measured at more than one supply voltage. */
  public static List<Result> regulation(List<ReducedPoint> points, double coverage) {
    Map<String, List<ReducedPoint>> alike = new LinkedHashMap<>();
    for (ReducedPoint p : points) {
      PointConditions c = p.point().conditions();
      if (c.supplyV().isPresent()) {
        String key = "%s|%s|%s".formatted(p.range(), p.stay(), c.loadOhm());
        alike.computeIfAbsent(key, k -> new ArrayList<>()).add(p);
      }
    }
    List<Result> results = new ArrayList<>();
    for (List<ReducedPoint> there : alike.values()) {
      long different = there.stream().map(p -> p.point().conditions().supplyV()).distinct().count();
      if (different > 1) {
        results.add(regulationAt(there, coverage));
      }
    }
    return results;
  }

  private static Result regulationAt(List<ReducedPoint> there, double coverage) {
    ReducedPoint first = there.get(0);
    ResultConditions at = temperature(there, ResultConditions.NONE);
    OptionalDouble load = first.point().conditions().loadOhm();
    if (load.isPresent()) {
      at = at.with(ResultConditionKey.LOAD_OHM, load.getAsDouble());
    }
    List<SupplyPoint> supplies =
        there.stream()
            .map(
                p ->
                    new SupplyPoint(
                        p.name(),
                        Estimate.exact(p.point().conditions().supplyV().orElseThrow()),
                        p.currentA()))
            .toList();
    return SupplyRegulation.of(
        supplies, LoadSweepRequest.of(first.range(), first.nominalA(), coverage), at);
  }

  /** Current with the source off, by range, stay and load. */
  public static List<Result> leakage(List<ReducedPoint> off, double coverage) {
    Map<String, List<ReducedPoint>> alike = new LinkedHashMap<>();
    for (ReducedPoint p : off) {
      String key = "%s|%s|%s".formatted(p.range(), p.stay(), p.point().conditions().loadOhm());
      alike.computeIfAbsent(key, k -> new ArrayList<>()).add(p);
    }
    List<Result> results = new ArrayList<>();
    for (List<ReducedPoint> there : alike.values()) {
      OptionalDouble load = there.get(0).point().conditions().loadOhm();
      ResultConditions at = temperature(there, ResultConditions.NONE);
      if (load.isPresent()) {
        at = at.with(ResultConditionKey.LOAD_OHM, load.getAsDouble());
      }
      Optional<String> range = there.get(0).point().conditions().range();
      List<Estimate> currents = there.stream().map(ReducedPoint::currentA).toList();
      results.add(SupplyRegulation.offLeakage(currents, range, at, coverage));
    }
    return results;
  }

  private static ResultConditions temperature(List<ReducedPoint> there, ResultConditions at) {
    OptionalDouble degC = TemperatureStays.meanDegC(there);
    return degC.isPresent()
        ? at.with(ResultConditionKey.TEMPERATURE_DEGC, Math.round(degC.getAsDouble() * 100) / 100.0)
        : at;
  }
}
