// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import org.junit.jupiter.api.Test;

/** One line for the person who repairs a unit. */
class RepairHintTest {
  private static final Cause NOTHING = cause(Cause.NOTHING, Optional.empty(), 0.02, List.of());

  private static Cause cause(
      String kind, Optional<String> part, double probability, List<String> alike) {
    return new Cause(
        kind,
        part,
        part.map(p -> new Cause.Size(812.4, "ppm", 4.5, 9)),
        probability,
        alike,
        Optional.empty());
  }

  private static Optional<String> hint(Cause... causes) {
    return RepairHint.of(
        new ErrorCauseDiagnosis(
            List.of(causes), List.of(), OptionalDouble.empty(), Optional.empty(), List.of()));
  }

  @Test
  void namesThePartAndHowFarItIsOff() {
    assertEquals(
        Optional.of("range resistor R2 high by 812 ± 9.0 ppm, probability 97 %"),
        hint(cause("range resistor", Optional.of("R2"), 0.97, List.of()), NOTHING));
  }

  /** Each alone is unlikely, together they are nearly sure. */
  @Test
  void namesAllOfASetThatCannotBeToldApart() {
    Cause reference =
        cause("reference error", Optional.of("REF"), 0.49, List.of("resistor network N1"));
    Cause network =
        cause("resistor network", Optional.of("N1"), 0.48, List.of("reference error REF"));
    assertEquals(
        Optional.of(
            "reference error REF high by 812 ± 9.0 ppm, probability 49 %; 97 % together with what"
                + " cannot be separated from it: resistor network N1"),
        hint(reference, network, NOTHING));
  }

  @Test
  void saysNothingWhereNothingIsLikelierThanAllElse() {
    Cause one = cause("range resistor", Optional.of("R2"), 0.4, List.of());
    Cause other = cause("range resistor", Optional.of("R3"), 0.35, List.of());
    assertEquals(Optional.empty(), hint(one, other, NOTHING));
    assertEquals(Optional.empty(), hint(NOTHING));
  }
}
