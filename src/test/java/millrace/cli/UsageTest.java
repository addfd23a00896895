// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What was found, what was expected, what to do; never the words of the parser underneath. */
class UsageTest {
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '"',
      textBlock =
          """
          anlyze 1 | there is no command 'anlyze'; expected 'demo',
          anlyze 1 | Did you mean 'analyze'?
          analyze 1 --jsn | there is no option '--jsn' of 'millrace analyze'; expected one of those that it has. Did you mean '--json'?
          run x --bogus=1 | there is no option '--bogus' of 'millrace run'; expected one of those that it has.
          bench tlak | there is no command 'tlak' of 'millrace bench'; expected 'check', 'certificate', 'history', 'talk'
          bench tlak | Did you mean 'talk'?
          bench | 'millrace bench' alone does nothing; expected one of its commands behind it: 'check', 'certificate', 'history', 'talk'
          runs extra | 'extra' is one word too many for 'millrace runs'; expected none there.
          run --unit | nothing stands behind --unit; expected [SLOT=]SN:
          report 1 -o | nothing stands behind -o; expected FILE:
          preview x | --datasheet FILE is missing; expected --datasheet FILE:
          new ship f.yaml | KIND: 'ship'; expected 'bench', 'datasheet', 'sequence', 'driver' or 'laboratory'.
          new banch f.yaml | Did you mean 'bench'?
          new | KIND is missing; expected KIND: 'bench', 'datasheet', 'sequence', 'driver' or 'laboratory'.
          runs --json=maybe | --json: 'maybe'; expected nothing behind it. Say '--json' alone.
          runs --since yesterday | --since: 'yesterday'; expected a day such as 2026-03-02
          runs --since 2026-01-01 --since 2026-01-02 | --since is given twice; expected once. Leave one out.
          show 1 --point x | --point: 'x' is no number of a point; expected a number such as 7 or 7.2
          production x --check-every five | --check-every: 'five'; expected a whole number in plain digits such as 7
          """)
  void isToldInTheWordsOfTheHouse(String words, String expected) {
    Spoken said = Spoken.by(words.split(" "));
    assertEquals(2, said.code(), said.err());
    assertTrue(said.err().contains(expected), said.err());
  }
}
