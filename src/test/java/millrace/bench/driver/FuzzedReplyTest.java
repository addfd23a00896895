// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Replies that no instrument means: the questions of every shipped driver find a number or none.
 */
class FuzzedReplyTest {
  private static final String[] PIECES = {
    "+1.0E-03",
    "9.9E37",
    "9.91E37",
    "NAN",
    "1,5",
    "OK",
    "ERR",
    " ",
    "\n",
    "degC",
    "A",
    "-",
    "e",
    "#",
    "0",
    "7",
    "FFFF",
    "\u0000",
    "\u00ff",
    ".",
    "+",
    "TEMP",
    ":0304",
    "E400",
    "\""
  };

  @Test
  void aReplyHoldsAFiniteNumberOrNone() throws IOException {
    replies(5_000);
  }

  @Tag("campaign")
  @Test
  void aReplyHoldsAFiniteNumberOrNoneForLong() throws IOException {
    replies(1_000_000);
  }

  private static void replies(int times) throws IOException {
    List<NumericQuery.Filled> questions = questions();
    assertTrue(questions.size() > 8, "only " + questions.size());
    for (int seed = 0; seed < times; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      StringBuilder reply = new StringBuilder();
      for (int n = random.nextInt(6); n > 0; n--) {
        reply.append(PIECES[random.nextInt(PIECES.length)]);
      }
      check(questions, reply.toString());
    }
  }

  static void check(List<NumericQuery.Filled> questions, String reply) {
    for (NumericQuery.Filled question : notEmpty(questions)) {
      question
          .count(reply)
          .ifPresent(x -> assertTrue(Double.isFinite(x.count()), question.text() + ": " + reply));
    }
  }

  static List<NumericQuery.Filled> questions() throws IOException {
    List<NumericQuery.Filled> found = new ArrayList<>();
    try (Stream<Path> all = Files.list(Path.of("drivers"))) {
      for (Path file : all.filter(p -> p.toString().endsWith(".yaml")).toList()) {
        DriverFile driver = DriverForms.DRIVER.readFile(file.toString(), Files.readAllBytes(file));
        Map<String, Object> words = new java.util.HashMap<>();
        driver.settings().forEach((name, preset) -> words.put(name, preset.orElse("1")));
        driver
            .roles()
            .values()
            .forEach(role -> role.questions().values().forEach(q -> found.add(q.filled(words))));
      }
    }
    return found;
  }
}
