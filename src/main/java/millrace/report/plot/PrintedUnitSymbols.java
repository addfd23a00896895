// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/** Unit symbols for print; all other text of the program writes units in plain letters. */
public final class PrintedUnitSymbols {
  private PrintedUnitSymbols() {}

  /**
   * Sets the units in a short text: {@code kohm} becomes {@code k\u03a9}, {@code uA} {@code
   * \u00b5A}, {@code degC} {@code \u00b0C}, {@code K2} {@code K\u00b2}, a hyphen before a digit a
   * minus sign.
   *
   * @param text a number with its unit, or a unit alone, made by this program
   * @return the same for print
   */
  public static String of(String text) {
    String set = text.replace("ohm", "\u03a9").replace("degC", "\u00b0C").replace("K2", "K\u00b2");
    StringBuilder out = new StringBuilder(set.length());
    for (int i = 0; i < set.length(); i++) {
      char c = set.charAt(i);
      out.append(
          c == 'u' && prefixes(set, i) ? '\u00b5' : c == '-' && signs(set, i) ? '\u2212' : c);
    }
    return out.toString();
  }

  /** Whether a u begins a word and precedes a letter of a unit. */
  private static boolean prefixes(String text, int i) {
    boolean begins = i == 0 || !Character.isLetter(text.charAt(i - 1));
    return begins && i + 1 < text.length() && "AVSsFWK\u03a9H".indexOf(text.charAt(i + 1)) >= 0;
  }

  private static boolean signs(String text, int i) {
    boolean begins = i == 0 || !Character.isLetterOrDigit(text.charAt(i - 1));
    return begins && i + 1 < text.length() && Character.isDigit(text.charAt(i + 1));
  }
}
