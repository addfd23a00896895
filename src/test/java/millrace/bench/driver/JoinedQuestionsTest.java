// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Lines and replies worked by hand from SCPI-1999 volume 1, 6.2.4, and IEEE 488.2-1992, 8.4.1. */
class JoinedQuestionsTest {
  @Test
  void aHeaderGoesOnWhereTheOneBeforeEnded() {
    assertEquals(
        "SYST:ERR?;:SENS:CURR:DC:RANG?;NPLC?;ZERO:AUTO?",
        JoinedQuestions.joined(
            List.of(
                "SYST:ERR?",
                "SENS:CURR:DC:RANG?",
                "SENS:CURR:DC:NPLC?",
                "SENS:CURR:DC:ZERO:AUTO?")));
  }

  @Test
  void aHeaderFromElsewhereBeginsWithAColon() {
    assertEquals(
        "VOLT:RANG?;:INP:IMP?;:VOLT:NPLC?",
        JoinedQuestions.joined(List.of("VOLT:RANG?", "INP:IMP?", "VOLT:NPLC?")));
  }

  @Test
  void aCommonCommandLeavesThePathAsItIs() {
    assertEquals("READ?;*ESR?", JoinedQuestions.joined(List.of("READ?", "*ESR?")));
    assertEquals(
        "VOLT:RANG?;*ESR?;NPLC?",
        JoinedQuestions.joined(List.of("VOLT:RANG?", "*ESR?", "VOLT:NPLC?")));
    assertEquals("*ESR?;:READ?", JoinedQuestions.joined(List.of("*ESR?", "READ?")));
  }

  @Test
  void aSemicolonBetweenQuotesSeparatesNothing() {
    assertEquals(
        List.of("-113,\"Undefined header;FOO\"", "+2.0E-03", "1"),
        JoinedQuestions.units("-113,\"Undefined header;FOO\";+2.0E-03;1"));
    assertEquals(List.of("", ""), JoinedQuestions.units(";"));
  }
}
