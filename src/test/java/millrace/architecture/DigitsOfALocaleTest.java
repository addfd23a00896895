package millrace.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * {@code formatted} writes numbers as the locale does: a comma for a point in one, other digits in
 * the next. So texts take numbers by {@code %s}, or are filled by {@code Numbers.format}.
 */
class DigitsOfALocaleTest {
  private static final Pattern NUMBER = Pattern.compile("%(\\d+\\$)?[-+ 0-9,.#(]*[deEfgG]");
  private static final Pattern BY_LOCALE =
      Pattern.compile("\\.formatted\\(|(?<!Numbers)\\.format\\((?!\\s*(java\\.util\\.)?Locale\\.)");

  private static boolean isByLocale(String statement) {
    return BY_LOCALE.matcher(statement).find()
        && NUMBER.matcher(statement.replace("%%", "")).find();
  }

  @ParameterizedTest
  @ValueSource(strings = {"src/main/java", "src/test/java"})
  void noTextTakesANumberAsTheLocaleWritesIt(String folder) throws IOException {
    List<String> found = new ArrayList<>();
    int statements = 0;
    try (Stream<Path> all = Files.walk(Path.of(folder))) {
      for (Path file : all.filter(p -> p.toString().endsWith(".java")).sorted().toList()) {
        if (file.endsWith(DigitsOfALocaleTest.class.getSimpleName() + ".java")) {
          continue;
        }
        for (String statement : Files.readString(file).split(";")) {
          statements++;
          if (isByLocale(statement)) {
            found.add(file + ": " + statement.strip());
          }
        }
      }
    }
    assertTrue(statements > 10_000, "only " + statements + " statements were seen");
    assertEquals(List.of(), found);
  }

  @Test
  void isNotBlind() {
    assertTrue(isByLocale("\"%d points\".formatted(n)"));
    assertTrue(isByLocale("String.format(\"%02.3f\", x)"));
    assertEquals(false, isByLocale("\"%s %% done\".formatted(n)"));
    assertEquals(false, isByLocale("Numbers.format(\"%.3g\", n)"));
    assertEquals(false, isByLocale("String.format(Locale.ROOT, \"%d\", n)"));
  }
}
