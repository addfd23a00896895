// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static org.junit.jupiter.api.Assertions.assertTrue;

import millrace.evidence.ResultQuantity;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Stated intervals of 95.45 % hold the truth as often as they say: a short form of 200 sets with
 * the bounds that chance allows (four standard deviations, 5.9 %), and the whole campaign of 2,000.
 */
class CoverageFactorsTest {
  private static final CoverageStudy SHORT = CoverageStudy.of(200, 12);

  @ParameterizedTest
  @EnumSource(
      value = ResultQuantity.class,
      names = {"CURRENT_ERROR", "OUTPUT_CONDUCTANCE", "TEMPCO", "COMPLIANCE_VOLTAGE"})
  void aShortFormFindsNoGrossFault(ResultQuantity quantity) {
    SHORT.write("short");
    CoverageStudy.Tally tally = SHORT.of(quantity);
    assertTrue(tally.values() >= 190, "values: " + tally.values());
    assertTrue(tally.coverage() >= 0.895, quantity + " is held in " + tally.coverage());
    assertTrue(tally.medianRatio() > 0.2 && tally.medianRatio() < 0.7, "" + tally.medianRatio());
  }

  @Test
  @Tag("campaign")
  void intervalsHoldTheTruthAsOftenAsTheySay() {
    CoverageStudy study = CoverageStudy.of(2000, 2026);
    study.write("campaign");
    for (ResultQuantity quantity :
        new ResultQuantity[] {
          ResultQuantity.CURRENT_ERROR, ResultQuantity.OUTPUT_CONDUCTANCE, ResultQuantity.TEMPCO
        }) {
      double coverage = study.of(quantity).coverage();
      assertTrue(coverage >= 0.935 && coverage <= 0.975, quantity + " is held in " + coverage);
    }
    // an enclosure: at least as often, as long as it is wider than the points' own uncertainty
    double enclosed = study.of(ResultQuantity.COMPLIANCE_VOLTAGE).coverage();
    assertTrue(enclosed >= 0.935, "compliance voltage is held in " + enclosed);
  }
}
