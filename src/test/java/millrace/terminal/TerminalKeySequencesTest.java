// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TerminalKeySequencesTest {
  /** F1 as four kinds of terminal send it, F5, F12, arrows, shifted ones, Alt and a letter. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "\u001bOP",
        "\u001b[11~",
        "\u001b[[A",
        "\u009b11~",
        "\u001b[15~",
        "\u001b[24~",
        "\u001b[A",
        "\u001bOA",
        "\u001b[1;2P",
        "\u001bO1;2P",
        "\u001bx"
      })
  void aKeyIsNeverPartOfAName(String key) {
    assertEquals("", TerminalKeySequences.without(key));
    assertEquals("FX3-00001", TerminalKeySequences.without("FX3-" + key + "00001"));
    assertEquals("fixture 2", TerminalKeySequences.without(key + "fixture 2"));
  }

  @Test
  void aLoneEscapeGoesToo() {
    assertEquals("", TerminalKeySequences.without("\u001b"));
  }

  @Test
  void otherCharactersStay() {
    assertEquals("[A]\u0002FX3 ~", TerminalKeySequences.without("[A]\u0002FX3 ~"));
  }
}
