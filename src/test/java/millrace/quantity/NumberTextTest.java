// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class NumberTextTest {

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        " 1",
        "1 ",
        "1,5",
        "NaN",
        "Infinity",
        "0x1p3",
        "1d",
        "1f",
        "e5",
        ".",
        "1e",
        "1e400"
      })
  void parseRefusesWhatIsOffTheGrammar(String text) {
    assertEquals(OptionalDouble.empty(), NumberText.parse(text));
  }

  @Test
  void whatIsPrintedIsReadBackExactly() {
    SplittableRandom random = new SplittableRandom(1);
    for (int i = 0; i < 20000; i++) {
      double value = Double.longBitsToDouble(random.nextLong());
      if (Double.isFinite(value)) {
        assertEquals(
            value == 0 ? 0 : value, NumberText.parse(NumberText.print(value)).orElseThrow());
      }
    }
  }

  @ParameterizedTest
  @CsvSource({"0.093,3", "0.10,2", "9.0,1", "93,0", "930,-1", "0.0996,2", "1,1"})
  void decimalsFollowTwoDigitsOfTheUncertainty(double uncertainty, int decimals) {
    assertEquals(decimals, NumberText.decimalsFor(uncertainty));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -1, Double.NaN, Double.POSITIVE_INFINITY})
  void anUncertaintyThatIsNoneIsRefused(double uncertainty) {
    assertThrows(IllegalArgumentException.class, () -> NumberText.decimalsFor(uncertainty));
  }

  @ParameterizedTest
  @CsvSource({"1234567,3,1230000", "0.000123456,3,0.000123", "1.5e-9,2,1.5e-9", "-0.5,2,-0.50"})
  void significantDigitsAreKeptReadable(double value, int digits, String text) {
    assertEquals(text, NumberText.significant(value, digits));
  }

  @Test
  void aRoundedZeroHasNoSign() {
    assertEquals("0.00", NumberText.fixed(-0.001, 2));
    assertTrue(NumberText.print(-0.0).equals("0"));
  }

  @ParameterizedTest
  @CsvSource({"0.001,-3", "0.00999,-3", "1000,3", "999.9999999999999,2", "-5e-324,-324", "1,0"})
  void theDecadeIsThatOfTheFirstDigit(double value, int decade) {
    assertEquals(decade, NumberText.decade(value));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, Double.NaN, Double.NEGATIVE_INFINITY})
  void noFirstDigitIsNoDecade(double value) {
    assertThrows(IllegalArgumentException.class, () -> NumberText.decade(value));
  }

  @Test
  void powersOfTenAreThoseThatAreWritten() {
    assertEquals(1e-3, NumberText.powerOfTen(-3));
    assertEquals(1e23, NumberText.powerOfTen(23));
  }

  @ParameterizedTest
  @CsvSource({"1,0", "1.0000000000000002,1", "2,1", "8,3", "8.000000000000002,4", "1000,10"})
  void halvingsAreCountedExactly(double ratio, int halvings) {
    assertEquals(halvings, NumberText.halvings(ratio));
  }
}
