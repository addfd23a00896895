// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import millrace.quantity.NumberText;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * The page of digits states no more than the tests reached. It runs after them all, by its tag;
 * {@code mvn verify -Dmend=true} mends the page.
 *
 * <p>Figures are held from below, and new ones leave room, since the last digits are the machine's:
 * fused multiplication and the library's elementary functions differ between processors.
 */
@Tag("last")
class DigitsTableIT {
  private static final Path PAGE = Path.of("src", "site", "digits.md");
  private static final Path FOUND = Path.of("target", "verification");

  /** The test that is skipped where there is no R, and the source of its rows. */
  private static final String BY_R = "WholeRunAgainstRIT";

  private static final String SOURCE_BY_R = "| R lm";
  private static final String END = "<!-- end -->";
  private static final String HEAD = "| source | quantity | digits, at least |\n|---|---|---|\n";

  private static String begin(Origin origin) {
    return "<!-- " + origin + ": written by DigitsTableIT -->\n";
  }

  /** Fewest digits by source and quantity, as tests left them. */
  private static Map<String, Double> reached(Origin origin) throws IOException {
    Map<String, Double> reached = new TreeMap<>();
    try (Stream<Path> files = Files.list(FOUND)) {
      for (Path file : files.filter(f -> f.toString().endsWith(".csv")).sorted().toList()) {
        for (String line : Files.readAllLines(file)) {
          String[] parts = line.split(",");
          if (parts[0].equals(origin.name())) {
            double digits = NumberText.parse(parts[3]).orElseThrow();
            reached.merge("| " + parts[1] + " | " + parts[2], digits, Math::min);
          }
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
              stated.put(l.substring(0, bar), (int) NumberText.parse(digits).orElseThrow());
            });
    return stated;
  }

  /** What to state, with room for another machine. */
  private static int withRoom(double reached) {
    return (int) (reached >= 6 ? Math.min(10, Math.floor(reached) - 1) : Math.floor(reached - 0.3));
  }

  private static boolean untried(String row) {
    return row.startsWith(SOURCE_BY_R)
        && !Files.exists(FOUND.resolve(BY_R + ".csv"))
        && !"true".equals(System.getenv("CI"));
  }

  private static String mended(Map<String, Integer> stated, Map<String, Double> reached) {
    Map<String, Integer> rows = new TreeMap<>(stated);
    rows.keySet().removeIf(row -> !reached.containsKey(row) && !untried(row));
    reached.forEach(
        (row, digits) ->
            rows.merge(row, withRoom(digits), (old, now) -> old <= digits ? old : now));
    StringBuilder text = new StringBuilder(HEAD);
    rows.forEach((row, n) -> text.append(row).append(" | ").append(n).append(" |\n"));
    return text.toString();
  }

  private static List<String> wrong(Map<String, Integer> stated, Map<String, Double> reached) {
    List<String> wrong = new ArrayList<>();
    reached.forEach(
        (row, digits) -> {
          if (!stated.containsKey(row)) {
            wrong.add(row + ": is missing from the page");
          } else if (digits < stated.get(row)) {
            wrong.add(row + ": states " + stated.get(row) + ", reached " + digits);
          }
        });
    stated.keySet().stream()
        .filter(row -> !reached.containsKey(row) && !untried(row))
        .forEach(row -> wrong.add(row + ": no test writes it"));
    return wrong;
  }

  /** How many rows rest on what, first of all. */
  private static String counted(String page) {
    List<Long> rows = new ArrayList<>();
    for (Origin origin : Origin.values()) {
      int from = page.indexOf(begin(origin));
      String table = page.substring(from, page.indexOf(END, from));
      rows.add(table.lines().filter(l -> l.startsWith("| ") && !l.startsWith("| source")).count());
    }
    return "Rows: %s published, %s recomputed by another program, %s from memory."
        .formatted(rows.toArray());
  }

  @Test
  void thePageStatesNoMoreDigitsThanTheTestsReached() throws IOException {
    assumeTrue(
        Files.exists(FOUND.resolve("StrdLinearTest.csv"))
            && Files.exists(FOUND.resolve("DistributionsTest.csv")),
        "the verification tests did not run before");
    String page = Files.readString(PAGE, UTF_8).replace("\r\n", "\n");
    List<String> wrong = new ArrayList<>();
    for (Origin origin : Origin.values()) {
      int from = page.indexOf(begin(origin)) + begin(origin).length();
      int to = page.indexOf(END, from);
      assertTrue(
          from >= begin(origin).length() && to > 0, PAGE + " has no place for table " + origin);
      Map<String, Integer> stated = stated(page.substring(from, to));
      Map<String, Double> reached = reached(origin);
      wrong.addAll(wrong(stated, reached));
      page = page.substring(0, from) + mended(stated, reached) + page.substring(to);
    }
    String counted = counted(page);
    if (!page.contains("\n" + counted + "\n")) {
      wrong.add("the count of rows is not '" + counted + "'");
      page = page.replaceFirst("(?m)^Rows: .*$", counted);
    }
    if (Boolean.getBoolean("mend")) {
      Files.writeString(PAGE, page, UTF_8);
    } else {
      assertEquals(
          List.of(), wrong, PAGE + " does not hold; 'mvn verify -Dmend=true' writes it anew");
    }
  }
}
