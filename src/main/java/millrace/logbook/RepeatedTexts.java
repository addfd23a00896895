// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;

/**
 * Texts that came from a server a short while ago, by their bytes: most texts of a result stand in
 * the results of thousands of runs, and are decoded once. Of two texts with the same place the
 * later one is kept. One thread at a time.
 */
final class RepeatedTexts {
  private static final int PLACES = 1 << 12;

  /** Longer ones are not kept, so that what is kept stays small, bytes. */
  private static final int LONGEST = 2048;

  private static final int SAMPLES = 8;

  private final byte @Nullable [][] known = new byte[PLACES][];
  private final @Nullable String[] texts = new String[PLACES];

  /**
   * A text.
   *
   * @param utf8 its bytes, which nobody changes
   * @param made what is made of a text that is not known
   */
  String of(byte[] utf8, UnaryOperator<String> made) {
    int place = place(utf8);
    String text = texts[place];
    if (text == null || !Arrays.equals(known[place], utf8)) {
      text = made.apply(new String(utf8, StandardCharsets.UTF_8));
      if (utf8.length <= LONGEST) {
        known[place] = utf8;
        texts[place] = text;
      }
    }
    return text;
  }

  /** By its length, its last bytes and some between: texts of one column begin alike. */
  private static int place(byte[] utf8) {
    int hash = utf8.length;
    int step = 1 + utf8.length / SAMPLES;
    for (int i = utf8.length - 1; i >= 0; i -= step) {
      hash = 31 * hash + utf8[i];
    }
    for (int i = Math.max(0, utf8.length - SAMPLES); i < utf8.length; i++) {
      hash = 31 * hash + utf8[i];
    }
    return (hash ^ hash >>> 12 ^ hash >>> 22) & (PLACES - 1);
  }
}
