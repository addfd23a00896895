// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Guided by coverage: what comes with right check bytes, which no fuzzer guesses, is a frame of
 * Modbus RTU or has a fault; a whole one holds what was sent, whatever the pieces.
 */
class RtuFuzzTest {
  static List<byte[]> replies() {
    return Stream.of("01010302FF9C", "02010600010AF0", "03018302", "070103060A0D000A0D23", "0141")
        .map(HexFormat.of()::parseHex)
        .toList();
  }

  /** The first byte chooses the length of the pieces. */
  @MethodSource("replies")
  @FuzzTest
  void isAFrameOrHasAFault(byte[] bytes) {
    if (bytes.length < 3 || bytes.length > RtuFrame.MOST_BYTES - 1) {
      return;
    }
    String body = HexFormat.of().formatHex(bytes, 1, bytes.length);
    byte[] reply = RtuFrame.wire(body).getBytes(StandardCharsets.ISO_8859_1);
    String whole = FuzzedBytesTest.framed(new RtuFrame(), reply, reply.length);
    assertEquals(whole, FuzzedBytesTest.framed(new RtuFrame(), reply, 1 + (bytes[0] & 7)));
    RtuFrame frame = new RtuFrame();
    int end = frame.take(reply, 0, reply.length);
    if (frame.whole()) {
      assertEquals(frame.text().length() / 2 + 2, end);
      byte[] again = RtuFrame.wire(frame.text()).getBytes(StandardCharsets.ISO_8859_1);
      assertEquals(0, Arrays.compare(again, Arrays.copyOf(reply, end)));
      ModbusRefusal.in(frame.text()).ifPresent(no -> assertTrue(no.startsWith("exception "), no));
    }
  }
}
