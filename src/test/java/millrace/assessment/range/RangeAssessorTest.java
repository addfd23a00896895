// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import millrace.assessment.BenchRun;
import millrace.assessment.basis.JudgementBasis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.OpenBook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** The results of one range, from readings of a source whose slopes are known. */
class RangeAssessorTest {
  private static final double OUTPUT_OHM = 2e9;
  private static final double PER_K = 4e-6;
  private static final JudgementBasis BASIS =
      new JudgementBasis(
          Optional.empty(), Optional.empty(), Optional.empty(), List.of(), Optional.empty(), "");

  @RegisterExtension private final OpenBook book = new OpenBook();

  private RangeAssessor assessed(double... degC) {
    return new RangeAssessor(
        "1mA", BenchRun.reduced(BenchRun.night(book.logbook(), OUTPUT_OHM, PER_K, degC)), BASIS);
  }

  private static List<Result> of(RangeAssessor found, ResultQuantity quantity) {
    return found.results().stream().filter(r -> r.quantity() == quantity).toList();
  }

  private static void assertHolds(double truth, Result result) {
    ComputationOutcome.Value value =
        assertInstanceOf(ComputationOutcome.Value.class, result.outcome());
    assertEquals(truth, value.value(), value.uncertainty().orElseThrow().expanded());
  }

  @Test
  void theConductanceIsToldAtEachTemperature() {
    RangeAssessor found = assessed(13, 23, 33);

    List<Result> conductances = of(found, ResultQuantity.OUTPUT_CONDUCTANCE);
    assertEquals(3, conductances.size());
    assertEquals(3, found.loads().size());
    notEmpty(conductances).forEach(r -> assertHolds(1 / OUTPUT_OHM, r));
  }

  @Test
  void theTemperatureCoefficientIsThatOfTheShortedCurrent() {
    RangeAssessor found = assessed(13, 23, 33);

    List<Result> tempco = of(found, ResultQuantity.TEMPCO);
    assertEquals(1, tempco.size());
    assertHolds(PER_K * 1e6, tempco.get(0));
    assertTrue(found.temperatures().isPresent());
  }

  @Test
  void oneTemperatureTellsNoCoefficientAndWhatIsWanting() {
    List<Result> tempco = of(assessed(23), ResultQuantity.TEMPCO);

    assertEquals(1, tempco.size());
    ComputationOutcome.Missing missing =
        assertInstanceOf(ComputationOutcome.Missing.class, tempco.get(0).outcome());
    assertTrue(missing.reason().contains("temperature"), missing.reason());
  }
}
