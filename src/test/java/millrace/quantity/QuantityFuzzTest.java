// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;

/** Guided by coverage: a text is a finite quantity that prints, or refused in words. */
class QuantityFuzzTest {
  static List<byte[]> quantities() {
    return Stream.of(
            "0100 uA",
            "3221e-22222222222 %",
            "14.7 kohm",
            "2-10 degC",
            "30.1 %",
            "42 h",
            "5-1.5e-3 ppm/K")
        .map(text -> text.getBytes(StandardCharsets.UTF_8))
        .toList();
  }

  /** The first byte chooses what the rest is a quantity of. */
  @MethodSource("quantities")
  @FuzzTest
  void isFiniteOrRefused(byte[] bytes) {
    if (bytes.length > 0) {
      Dimension[] all = Dimension.values();
      String text = new String(bytes, 1, bytes.length - 1, StandardCharsets.UTF_8);
      FuzzedTextTest.check(text, all[(bytes[0] & 0xff) % all.length]);
    }
  }
}
