// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import millrace.bench.driver.Checksum.Kind;
import millrace.bench.driver.Checksum.On;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ChecksumTest {
  /** Sums are worked by hand: 01+03+00+00+00+01 = 05, its two's complement FB. */
  @ParameterizedTest
  @CsvSource({
    "MODBUS_LRC, ':', '', 010300000001, :010300000001FB",
    "MODBUS_LRC, ':', '', 01030200D7, :01030200D723",
    "SUM, '', '', AB, AB83",
    "XOR, '#', '', AB, #AB03",
    "XOR, '$', '*', AB, $AB*03",
    "SUM, '@', '', '', @00"
  })
  void theCheckDigitsFollowTheMessage(
      Kind kind, String before, String between, String body, String line) {
    Checksum checksum = new Checksum(kind, before, between, On.BOTH);
    assertEquals(line, checksum.wrap(body));
    assertEquals(body, checksum.unwrap(line));
  }

  /** The sum of the character codes of 'U=1': 85 + 61 + 49 = 195, C3 in hex. */
  @Test
  void whereOnlyRepliesHaveItCommandsGoAsTheyAre() {
    Checksum checksum = new Checksum(Kind.SUM, "", ";", On.REPLIES);
    assertEquals("U", checksum.wrap("U"));
    assertEquals("U=1", checksum.unwrap("U=1;C3"));
    assertThrows(IllegalArgumentException.class, () -> checksum.unwrap("U=1;C4"));
  }

  @ParameterizedTest
  @CsvSource({
    ":010300000001FC, has check digits FC instead of FB",
    "010300000001FB, does not begin with ':' and end with two check digits",
    ":F, does not begin with ':' and end with two check digits"
  })
  void aWrongCheckIsRefused(String line, String why) {
    Checksum checksum = new Checksum(Kind.MODBUS_LRC, ":", "", On.BOTH);
    assertEquals(
        why,
        assertThrows(IllegalArgumentException.class, () -> checksum.unwrap(line)).getMessage());
  }
}
