// SPDX-License-Identifier: Apache-2.0
package millrace.evidence.part;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.quantity.QuantityException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class PartValueTest {
  @ParameterizedTest
  @EnumSource(PartQuantity.class)
  void isReadBackFromItsLine(PartQuantity quantity) {
    PartValue plain =
        new PartValue(quantity, "R 2", 0.25, 2e-3, OptionalDouble.empty(), OptionalDouble.empty());
    PartValue full =
        new PartValue(
            quantity, "1mA = b", -1e-9, 2e-12, OptionalDouble.of(-5), OptionalDouble.of(8));
    assertEquals(Optional.of(plain), PartValue.parse(plain.text()));
    assertEquals(Optional.of(full), PartValue.parse(full.text()));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "asked 'How much is R2?': 2.5 kohm",
        "by hand: colour of R2 = 2.5 kohm, u 1 ohm",
        "by hand: resistance of R2 = red, u 1 ohm",
        "by hand: resistance of R2 = 2.5 kohm"
      })
  void anotherLineIsNone(String line) {
    assertEquals(Optional.empty(), PartValue.parse(line));
  }

  @Test
  void anAnswerOfAnotherKindIsRefused() {
    AskedPartValue asked =
        new AskedPartValue(PartQuantity.RESISTANCE, "R2", 20e-6, 0, OptionalDouble.empty());
    assertEquals(
        0.05, asked.answered("2.5 kohm", OptionalDouble.empty()).standardUncertainty(), 1e-12);
    assertThrows(QuantityException.class, () -> asked.answered("2.5 V", OptionalDouble.empty()));
  }

  @Test
  void anAnswerIsWorthSomething() {
    assertThrows(
        IllegalArgumentException.class,
        () -> new AskedPartValue(PartQuantity.VOLTAGE, "D1", 0, 0, OptionalDouble.empty()));
  }
}
