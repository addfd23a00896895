// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import com.google.re2j.Matcher;
import com.google.re2j.Pattern;
import com.google.re2j.PatternSyntaxException;
import org.jspecify.annotations.Nullable;

/**
 * Regular expressions from files. Their dialect is that of RE2, which runs in linear time on any
 * text. Their size is limited too, since compilation unfolds counted repetitions.
 */
public final class RegexFromFile {
  /** The longest expression that is taken. */
  public static final int MOST_CHARACTERS = 1000;

  private static final long MOST_UNFOLDED = 100_000;
  private static final Pattern COUNT = Pattern.compile("\\{([0-9]{1,4})(?:,([0-9]{0,4}))?\\}");

  /** A kind of character, and how many of it. */
  private static final Pattern KIND =
      Pattern.compile("(?:(\\[0-9\\]|\\\\d)|(\\[A-Z\\]))(?:\\{([0-9]{1,2})\\})?");

  private RegexFromFile() {}

  /**
   * A pattern in words for people who do not read regular expressions: a matching example, and the
   * pattern.
   *
   * @param pattern such as {@code FX3-[0-9]{5}}
   * @return such as {@code FX3-00000 (pattern FX3-[0-9]{5})}; the pattern alone if filling in
   *     digits and letters gives no match
   */
  public static String shown(Pattern pattern) {
    StringBuilder fitting = new StringBuilder();
    String text = pattern.pattern();
    Matcher kinds = KIND.matcher(text);
    int from = 0;
    while (kinds.find()) {
      int count = kinds.group(3) == null ? 1 : Integer.parseInt(kinds.group(3));
      String one = kinds.group(1) == null ? "A" : "0";
      fitting.append(text, from, kinds.start()).append(one.repeat(count));
      from = kinds.end();
    }
    fitting.append(text, from, text.length());
    boolean fits = from > 0 && pattern.matcher(fitting).matches();
    return fits ? fitting + " (pattern " + text + ")" : text;
  }

  /**
   * Compiles an expression.
   *
   * @param text the expression, at most {@link #MOST_CHARACTERS} characters; these, times every
   *     count of a repetition in it, at most 100000
   * @return the pattern
   * @throws IllegalArgumentException if it is no expression, or too large; the message says why
   */
  public static Pattern compile(String text) {
    if (text.length() > MOST_CHARACTERS || unfolded(text) > MOST_UNFOLDED) {
      throw new IllegalArgumentException(
          "%s unfolds to too large a regular expression (at most %s characters, and small counts in braces)"
              .formatted(FileMessageText.quoted(text), MOST_CHARACTERS));
    }
    try {
      return Pattern.compile(text);
    } catch (PatternSyntaxException e) {
      throw new IllegalArgumentException(
          "%s is no regular expression: %s"
              .formatted(FileMessageText.quoted(text), e.getDescription()),
          e);
    }
  }

  private static long unfolded(String text) {
    long size = text.length();
    Matcher counts = COUNT.matcher(text);
    while (counts.find() && size <= MOST_UNFOLDED) {
      size *= Math.max(1, Math.max(count(counts.group(1)), count(counts.group(2))));
    }
    return size;
  }

  private static long count(@Nullable String digits) {
    return digits == null || digits.isEmpty() ? 0 : Long.parseLong(digits);
  }
}
