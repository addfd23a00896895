// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import static millrace.report.table.ResultTableTest.judged;
import static millrace.report.table.ResultTableTest.result;
import static millrace.report.table.ResultTableTest.value;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.OptionalDouble;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Limit;
import millrace.evidence.Limits;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.report.words.LimitMargin;
import org.junit.jupiter.api.Test;

/** Of each range and quantity the result that decides, and how far it keeps from its limit. */
class WorstCasesTest {
  private static final Limit WITHIN_150 = Limits.between(-150, 150);

  private static Result error(String range, double ppm, double u, Conformity conformity) {
    return judged(
        result(ResultQuantity.CURRENT_ERROR, range, ResultConditions.NONE, value(ppm, u)),
        WITHIN_150,
        conformity);
  }

  private static final Result FAR = error("1mA", 10, 20, Conformity.PASS);
  private static final Result NEAR = error("1mA", -100, 24, Conformity.PASS);
  private static final Result BEYOND = error("10mA", 198, 24, Conformity.FAIL);
  private static final Result UNJUDGED =
      result(
          ResultQuantity.CURRENT_ERROR,
          "1mA",
          ResultConditions.of(ResultConditionKey.TERMINAL_VOLTAGE_V, 14.0),
          value(-9000, 24));
  private static final Result OPEN =
      judged(
          result(
              ResultQuantity.COMPLIANCE_VOLTAGE,
              "1mA",
              ResultConditions.NONE,
              new ComputationOutcome.Bound(ComputationOutcome.Side.ABOVE, 12.2, 9)),
          new Limit(OptionalDouble.of(13.5), OptionalDouble.empty()),
          Conformity.NOT_EVALUATED);
  private static final Result DRIFT =
      result(ResultQuantity.DRIFT, "10mA", ResultConditions.NONE, value(-0.3, 0.1));

  @Test
  void distanceCountsInUFromTheNearerLimit() {
    assertEquals(7, LimitMargin.inU(FAR).orElseThrow(), 1e-12);
    assertEquals(50 / 24.0, LimitMargin.inU(NEAR).orElseThrow(), 1e-12);
    assertEquals("2.0 U beyond", LimitMargin.inWords(BEYOND));
    assertTrue(LimitMargin.inU(OPEN).isEmpty(), "a bound has no U");
    assertEquals(
        List.of(BEYOND, OPEN, NEAR, FAR),
        List.of(FAR, NEAR, BEYOND, OPEN).stream().sorted(LimitMargin.worstFirst()).toList());
  }

  @Test
  void rangesStandDownAndQuantitiesAcross() {
    assertEquals(
        """
        range  current error  compliance voltage  drift
               ppm            V                   ppm/h
        1mA    -100 ± 24      above 12.2 ?        -
        10mA   198 ± 24 !     -                   -0.30 ± 0.10
        worst case of each range ± U; ! not met; ? not evaluated; - not computed
        """,
        WorstCases.table(List.of(UNJUDGED, FAR, NEAR, BEYOND, OPEN, DRIFT)));
  }

  @Test
  void whereNothingWasComputedThereIsNoTable() {
    assertEquals("", WorstCases.table(List.of()));
  }
}
