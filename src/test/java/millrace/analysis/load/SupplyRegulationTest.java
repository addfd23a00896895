// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import org.junit.jupiter.api.Test;

class SupplyRegulationTest {
  private static final LoadSweepRequest QUESTION = LoadSweepRequest.of("1mA", 1e-3, 0.9545);

  private static Estimate with(double value, String name, double u) {
    return Estimate.exact(value).with(ErrorSource.normal(name, ErrorSource.RUN, name, u, "1"), 1);
  }

  private static Estimate read(double value, String point) {
    return Estimate.exact(value)
        .with(ErrorSource.normal("noise", ErrorSource.POINT, point, 1e-10, "A"), 1);
  }

  private static ComputationOutcome.Value value(Result result) {
    return assertInstanceOf(ComputationOutcome.Value.class, result.outcome());
  }

  @Test
  void theLowestLoadIsTheReferenceWhereNoDatasheetSaysOne() {
    LoadPoint a =
        new LoadPoint(
            "a", Estimate.exact(1), Estimate.exact(1e-3), OptionalDouble.of(1000), 0, false, false);
    LoadPoint b =
        new LoadPoint(
            "b",
            Estimate.exact(0.1),
            Estimate.exact(1e-3),
            OptionalDouble.of(100),
            0,
            false,
            false);
    assertEquals(
        LoadSweepRequest.Reference.atOhm(100), LoadSweepRequest.Reference.lowest(List.of(a, b)));
    assertEquals(LoadSweepRequest.Reference.SHORT, LoadSweepRequest.Reference.lowest(List.of()));
  }

  @Test
  void supplyRegulationIsTheSlopeOverTheSupply() {
    List<SupplyRegulation.SupplyPoint> points =
        List.of(
            new SupplyRegulation.SupplyPoint("a", Estimate.exact(12), read(1e-3, "a")),
            new SupplyRegulation.SupplyPoint("b", Estimate.exact(15), read(1.00003e-3, "b")),
            new SupplyRegulation.SupplyPoint("c", Estimate.exact(18), read(1.00006e-3, "c")));
    ComputationOutcome.Value slope =
        value(SupplyRegulation.of(points, QUESTION, ResultConditions.NONE));
    assertEquals(10, slope.value(), 1e-6);
    // u = 0.1 ppm / sqrt(2 * 9 V2)
    assertEquals(0.1 / Math.sqrt(18), slope.uncertainty().orElseThrow().standard(), 1e-9);
  }

  @Test
  void oneSupplyVoltageTellsNoSlope() {
    List<SupplyRegulation.SupplyPoint> one =
        List.of(new SupplyRegulation.SupplyPoint("a", Estimate.exact(12), with(1e-3, "a", 1e-10)));
    assertInstanceOf(
        ComputationOutcome.Missing.class,
        SupplyRegulation.of(one, QUESTION, ResultConditions.NONE).outcome());
    assertInstanceOf(
        ComputationOutcome.Missing.class,
        SupplyRegulation.offLeakage(List.of(), Optional.empty(), ResultConditions.NONE, 0.9545)
            .outcome());
  }
}
