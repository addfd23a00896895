// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Regular expressions from files that nobody here has seen. */
class RegexFromFileTest {
  @ParameterizedTest
  @ValueSource(strings = {"^[+-]?0,", "BX5-[0-9]{4}", "^I=(.{1,20})A$", "\\{3}", "a{1000}"})
  void whatPeopleWriteIsTaken(String text) {
    assertEquals(text, RegexFromFile.compile(text).pattern());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "BX5-[0-9]{4}; BX5-0000 (pattern BX5-[0-9]{4})",
        "[A-Z]{2}\\d[0-9]; AA00 (pattern [A-Z]{2}\\d[0-9])",
        "[A-Z0-9-]+; [A-Z0-9-]+",
        "BX5; BX5"
      })
  void isShownByWhatFitsIt(String pattern, String shown) {
    assertEquals(shown, RegexFromFile.shown(RegexFromFile.compile(pattern)));
  }

  static Stream<String> bombs() {
    return Stream.of(
        "(((a{100}){100}){100})",
        "(?:(?:x{1,1000}){0,1000}){1000,}",
        "((\\pL{100}){100}){50}",
        "(".repeat(2000) + ")".repeat(2000));
  }

  @ParameterizedTest
  @MethodSource("bombs")
  void whatUnfoldsToTooMuchIsRefusedBeforeItDoes(String text) {
    String message =
        assertThrows(IllegalArgumentException.class, () -> RegexFromFile.compile(text))
            .getMessage();
    assertTrue(message.contains("unfolds to too large a regular expression"), message);
  }

  /** In a dialect that backtracks, this takes longer than anybody waits. */
  @Test
  void matchingTakesTimeInProportion() {
    String reply = "a".repeat(65_536);
    assertTrue(!RegexFromFile.compile("^(a+)+(a|aa)+$").matcher(reply + "!").find());
  }
}
