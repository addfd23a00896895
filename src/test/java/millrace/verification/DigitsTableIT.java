package millrace.verification;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import millrace.quantity.Numbers;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * The table of digits in DEVELOPERS.md is what the tests reached. It runs after them all, by its
 * tag; {@code mvn verify -Dmend=true} writes the table anew.
 *
 * <p>Digits are whole and at most {@value #MOST}, and one more than stated is no fault, so that
 * machines may differ in the last place.
 */
@Tag("last")
class DigitsTableIT {
  private static final int MOST = 12;
  private static final Path PAGE = Path.of("DEVELOPERS.md");
  private static final Path FOUND = Path.of("target", "verification");

  /** The test that is skipped where there is no R. */
  private static final String BY_R = "WholeRunAgainstRIT";

  private static final String BEGIN = "<!-- digits reached: written by DigitsTableIT -->";
  private static final String END = "<!-- end of digits reached -->";
  private static final String HEAD = "| source | quantity | digits |\n|---|---|---|\n";

  /** Fewest digits by source and quantity, as tests left them. */
  private static Map<String, Integer> reached() throws IOException {
    Map<String, Integer> reached = new TreeMap<>();
    try (Stream<Path> files = Files.list(FOUND)) {
      for (Path file : files.filter(f -> f.toString().endsWith(".csv")).sorted().toList()) {
        for (String line : Files.readAllLines(file)) {
          String[] parts = line.split(",");
          int digits = (int) Math.floor(Numbers.parse(parts[2]).orElseThrow());
          reached.merge("| " + parts[0] + " | " + parts[1], Math.min(MOST, digits), Math::min);
        }
      }
    }
    return reached;
  }

  private static Map<String, Integer> stated(String table) {
    Map<String, Integer> stated = new TreeMap<>();
    table
        .lines()
        .filter(l -> l.startsWith("| ") && !l.startsWith("| source"))
        .forEach(
            l -> {
              int bar = l.lastIndexOf(" | ");
              String digits = l.substring(bar + 3).replace("|", "").strip();
              stated.put(l.substring(0, bar), (int) Numbers.parse(digits).orElseThrow());
            });
    return stated;
  }

  private static String table(Map<String, Integer> digits) {
    StringBuilder text = new StringBuilder(HEAD);
    digits.forEach((row, n) -> text.append(row).append(" | ").append(n).append(" |\n"));
    return text.toString();
  }

  @Test
  void theTableOfDigitsIsWhatTheTestsReached() throws IOException {
    assumeTrue(
        Files.exists(FOUND.resolve("StrdLinearTest.csv"))
            && Files.exists(FOUND.resolve("DistributionsTest.csv")),
        "the verification tests did not run before");
    Map<String, Integer> reached = reached();
    String page = Files.readString(PAGE, UTF_8);
    int from = page.indexOf(BEGIN) + BEGIN.length();
    int to = page.indexOf(END);
    assertTrue(from >= BEGIN.length() && to > from, "DEVELOPERS.md has no place for the table");
    if (Boolean.getBoolean("mend")) {
      String mended = page.substring(0, from) + "\n" + table(reached) + page.substring(to);
      Files.writeString(PAGE, mended, UTF_8);
      return;
    }
    Map<String, Integer> stated = stated(page.substring(from, to));
    if (!Files.exists(FOUND.resolve(BY_R + ".csv")) && !"true".equals(System.getenv("CI"))) {
      stated.keySet().removeIf(row -> row.startsWith("| R lm"));
    }
    reached.replaceAll((row, n) -> n - 1 == stated.getOrDefault(row, n) ? n - 1 : n);
    assertEquals(
        table(stated),
        table(reached),
        "the table of digits in DEVELOPERS.md is stale; 'mvn verify -Dmend=true' writes it anew");
  }
}
