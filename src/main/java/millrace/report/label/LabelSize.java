// SPDX-License-Identifier: Apache-2.0
package millrace.report.label;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Size of a label.
 *
 * @param widthMm width, mm, 20 to 300
 * @param heightMm height, mm, 12 to 300
 */
public record LabelSize(int widthMm, int heightMm) {
  private static final int LEAST_WIDTH_MM = 20;
  private static final int LEAST_HEIGHT_MM = 12;
  private static final int MOST_MM = 300;
  private static final Pattern TEXT = Pattern.compile("([0-9]{1,3})x([0-9]{1,3}) ?mm");

  /** Checks both ranges. */
  public LabelSize {
    if (widthMm < LEAST_WIDTH_MM
        || heightMm < LEAST_HEIGHT_MM
        || widthMm > MOST_MM
        || heightMm > MOST_MM) {
      throw new IllegalArgumentException(
          "a label of %sx%smm; expected %sx%smm to %sx%smm"
              .formatted(widthMm, heightMm, LEAST_WIDTH_MM, LEAST_HEIGHT_MM, MOST_MM, MOST_MM));
    }
  }

  /**
   * Parses a size: width, {@code x}, height, {@code mm}, in whole millimetres. {@code 62x29mm} is
   * accepted; {@code 62x29}, {@code 6.2x2.9cm} are refused.
   *
   * @param text such as {@code 62x29mm}
   * @return the size
   * @throws IllegalArgumentException if the text is not a size
   */
  public static LabelSize parse(String text) {
    Matcher m = TEXT.matcher(text);
    if (!m.matches()) {
      throw new IllegalArgumentException(
          "'" + text + "' is no size of a label; expected width and height, as in 62x29mm");
    }
    return new LabelSize(Integer.parseInt(m.group(1)), Integer.parseInt(m.group(2)));
  }

  /** Whether the code is beside the words; otherwise it is above them. */
  boolean lying() {
    return 2 * widthMm >= 3 * heightMm;
  }
}
