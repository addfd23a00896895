// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.HexFormat;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Frames of Modbus RTU, taken apart and put together. */
class RtuFrameTest {
  private static String hex(String latin) {
    return HexFormat.of().withUpperCase().formatHex(latin.getBytes(StandardCharsets.ISO_8859_1));
  }

  /** 02 07 is the example of Modbus over Serial Line V1.02, 6.2.2: CRC 1241 hex, sent 41 12. */
  @ParameterizedTest
  @CsvSource({"0207, 02074112", "010300000001, 010300000001840A"})
  void aRequestGoesOutWithItsCheckBytes(String request, String wire) {
    assertEquals(wire, hex(RtuFrame.wire(request)));
    assertEquals(wire, RtuPeer.checked(request));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "0", "01", "012", "01 03", "0x0103", "READ?", "01\n3"})
  void whatIsNoRowOfHexDigitsIsNotSent(String request) {
    String message =
        assertThrows(IllegalArgumentException.class, () -> RtuFrame.wire(request)).getMessage();
    assertTrue(
        message.endsWith(
            "is no request of Modbus RTU; expected 4 to 508 hex digits, two a" + " byte"),
        message);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"010302FF9C", "010600010AF0", "018302", "0103060A0D000A0D23", "110102CD6B"})
  void aReplyIsTheSameInPiecesOfAnyLength(String reply) {
    byte[] bytes = HexFormat.of().parseHex(RtuPeer.checked(reply) + "55");
    for (int step = 1; step <= bytes.length; step++) {
      RtuFrame frame = new RtuFrame();
      int at = 0;
      while (!frame.whole()) {
        assertTrue(frame.fault().isEmpty());
        at = frame.take(bytes, at, Math.min(bytes.length, at + step));
      }
      assertEquals(reply, frame.text());
      assertEquals(bytes.length - 1, at);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "010302FF9C0000, has check bytes 0000 instead of F9DD",
    "0163020000, has a function code that is none of its functions",
  })
  void aWrongFrameSaysWhy(String reply, String fault) {
    RtuFrame frame = new RtuFrame();
    byte[] bytes = HexFormat.of().parseHex(reply);
    frame.take(bytes, 0, bytes.length);
    assertTrue(frame.fault().orElseThrow().startsWith(fault), frame.fault().orElseThrow());
    frame.reset();
    byte[] right = HexFormat.of().parseHex(RtuPeer.checked("010302FF9C"));
    assertEquals(right.length, frame.take(right, 0, right.length));
    assertTrue(frame.whole());
  }

  @Test
  void aFrameThatAnnouncesTooMuchIsRefused() {
    byte[] bytes = new byte[300];
    bytes[1] = 3;
    bytes[2] = (byte) 255;
    RtuFrame frame = new RtuFrame();
    frame.take(bytes, 0, bytes.length);
    assertEquals(
        "announces more than the 256 bytes that a frame may have", frame.fault().orElseThrow());
  }

  /** Modbus over Serial Line V1.02, 2.5.1.1: 3.5 characters of 11 bits, 1.75 ms above 19200. */
  @ParameterizedTest
  @CsvSource({
    "serial a 9600, 4010417",
    "serial a 19200 8E1, 2005208",
    "serial a 115200, 1750000",
    "tcp b:502, 0"
  })
  void framesAreKeptApartBySilence(String address, long nanos) {
    assertEquals(nanos, RtuFrame.silence(LinkAddress.parse(address)).toNanos());
  }

  @Test
  void aRefusalIsNamed() {
    assertEquals("exception 2 (illegal data address)", ModbusRefusal.in("018302").orElseThrow());
    assertEquals("exception 119 (a code of its own)", ModbusRefusal.in("018677").orElseThrow());
    assertTrue(ModbusRefusal.in("010302FF9C").isEmpty());
    assertTrue(ModbusRefusal.in("010302").isEmpty());
  }
}
