// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * {@code formatted} writes numbers as the locale does: a comma for a point in one, other digits in
 * the next. So texts take numbers by {@code %s}, or are filled by {@code NumberText.format}.
 */
class DigitsOfALocaleTest {
  private static final Pattern NUMBER = Pattern.compile("%(\\d+\\$)?[-+ 0-9,.#(]*[deEfgG]");
  private static final String LITERAL = "\"[^\"\\\\\n]*+(?:\\\\.[^\"\\\\\n]*+)*+\"";
  private static final String LITERALS = LITERAL + "(?:\\s*\\+\\s*" + LITERAL + ")*";
  private static final Pattern BY_LOCALE =
      Pattern.compile(
          "(?:(?<!NumberText)\\.format\\(\\s*(?:%1$s))|(?:(?:%1$s)\\s*\\)?\\s*\\.formatted\\()"
              .replace("%1$s", LITERALS));

  private static List<String> byLocale(String text) {
    return BY_LOCALE
        .matcher(text)
        .results()
        .map(MatchResult::group)
        .filter(found -> NUMBER.matcher(found.replace("%%", "")).find())
        .toList();
  }

  @ParameterizedTest
  @ValueSource(strings = {"src/main/java", "src/test/java"})
  void noTextTakesANumberAsTheLocaleWritesIt(String folder) throws IOException {
    List<String> found = new ArrayList<>();
    int filled = 0;
    try (Stream<Path> all = Files.walk(Path.of(folder))) {
      for (Path file : all.filter(p -> p.toString().endsWith(".java")).sorted().toList()) {
        if (file.endsWith(DigitsOfALocaleTest.class.getSimpleName() + ".java")) {
          continue;
        }
        String text = Files.readString(file);
        filled += text.split("\\.formatted\\(").length - 1;
        byLocale(text).forEach(each -> found.add(file + ": " + each));
      }
    }
    assertTrue(filled > 100, "only " + filled + " filled texts were seen");
    assertEquals(List.of(), found);
  }

  @Test
  void isNotBlind() {
    assertEquals(1, byLocale("\"%d points\".formatted(n)").size());
    assertEquals(1, byLocale("String.format(\"%02.3f\", x)").size());
    assertEquals(List.of(), byLocale("\"%s %% done\".formatted(n)"));
    assertEquals(List.of(), byLocale("NumberText.format(\"%.3g\", n)"));
    assertEquals(List.of(), byLocale("String.format(Locale.ROOT, \"%d\", n)"));
  }
}
