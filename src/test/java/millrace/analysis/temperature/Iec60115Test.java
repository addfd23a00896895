// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import millrace.analysis.Reference;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ResultQuantity;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;

/** IEC 60115-1: a coefficient at each end against the reference temperature, in its form. */
class Iec60115Test {
  @Test
  void coefficientsAtTheColdAndTheHotEnd() {
    Digits digits = Digits.of(Iec60115Test.class, Origin.MEMORY, "IEC 60115-1");
    for (JsonNode c : Reference.json("iec/tcr_iec60115.json").get("cases")) {
      double reference = c.get("t_ref").asDouble();
      double t = c.get("t").asDouble();
      TemperatureStudy study =
          TemperatureStudy.of(
              List.of(
                  stay(0, reference, c.get("r_ref").asDouble()), stay(1, t, c.get("r").asDouble())),
              reference);
      ResultQuantity end = t < reference ? ResultQuantity.TEMPCO_COLD : ResultQuantity.TEMPCO_HOT;
      ComputationOutcome found =
          TemperatureResults.of(study, "any", 0.9545, List.of()).stream()
              .filter(r -> r.quantity() == end)
              .findFirst()
              .orElseThrow()
              .outcome();
      digits.agree(
          "end-point coefficient",
          c.get("tcr_ppm_per_K").asDouble(),
          ((ComputationOutcome.Value) found).value(),
          1e-9);
    }
  }

  private static TemperaturePoint stay(int stay, double t, double value) {
    return new TemperaturePoint(stay, t, Estimate.exact(t), Estimate.exact(value), stay);
  }
}
