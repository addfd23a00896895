// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ShortestDecimalTest {
  /** Exact values by IEEE 754; the first two are told of in JDK-4511638, the third is the least. */
  @ParameterizedTest
  @CsvSource({
    "0x1p-44, 5.684341886080802e-14",
    "0x1.b8d09e8cefce6p72, 8.1316e21",
    "0x1p-1074, 5e-324",
    "0x1p-1073, 1e-323",
    "0x1.3p56, 8.556839292003942e16",
    "-0x1.999999999999ap-4, -0.1",
    "0x1.fffffffffffffp1023, 1.7976931348623157e308"
  })
  void isTheSameFromEveryJava(String bits, BigDecimal shortest) {
    assertEquals(shortest.stripTrailingZeros(), ShortestDecimal.of(Double.valueOf(bits)));
  }

  @Test
  void readsBackAndIsNeverLongerThanTheLibrarysText() {
    SplittableRandom random = new SplittableRandom(3);
    for (int i = 0; i < 20000; i++) {
      double value = i % 2 == 0 ? Double.longBitsToDouble(random.nextLong()) : random.nextDouble();
      if (Double.isFinite(value)) {
        BigDecimal found = ShortestDecimal.of(value);
        assertEquals(value, found.doubleValue());
        assertEquals(value, ShortestDecimal.toRound(value).doubleValue());
        BigDecimal text = BigDecimal.valueOf(value).stripTrailingZeros();
        assertTrue(found.precision() <= text.precision(), text::toString);
      }
    }
  }
}
