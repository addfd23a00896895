// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Texts that nobody meant: a quantity is finite, or refused in words. */
class FuzzedTextTest {
  private static final String[] PIECES = {
    "1",
    "0",
    "9",
    ".",
    ",",
    "-",
    "+",
    "e",
    "E",
    "37",
    "308",
    " ",
    "\u00a0",
    "u",
    "\u00b5",
    "\u03bc",
    "m",
    "k",
    "M",
    "ohm",
    "\u03a9",
    "\u2126",
    "A",
    "V",
    "degC",
    "\u00b0C",
    "K",
    "ppm",
    "%",
    "/",
    "min",
    "h",
    "NaN",
    "inf",
    "Infinity",
    "0x",
    "1e400",
    "\u202e",
    "\u0000",
    "\ud83d",
    "_",
    "'",
    "d",
    "f",
    "dB"
  };

  @Test
  void quantitiesAreFiniteOrRefused() {
    quantities(50_000);
  }

  @Tag("campaign")
  @Test
  void quantitiesAreFiniteOrRefusedForLong() {
    quantities(20_000_000);
  }

  private static void quantities(int times) {
    Dimension[] all = Dimension.values();
    for (int seed = 0; seed < times; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      StringBuilder text = new StringBuilder();
      for (int n = random.nextInt(7); n >= 0; n--) {
        text.append(PIECES[random.nextInt(PIECES.length)]);
      }
      check(text.toString(), all[random.nextInt(all.length)]);
    }
  }

  static void check(String text, Dimension dimension) {
    NumberText.parse(text).ifPresent(x -> assertTrue(Double.isFinite(x), text));
    try {
      double value = QuantityText.parse(text, dimension);
      assertTrue(Double.isFinite(value), text);
      assertFalse(QuantityText.print(value, dimension).isBlank(), text);
    } catch (QuantityException e) {
      assertFalse(String.valueOf(e.getMessage()).isBlank(), text);
    }
  }
}
