// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;

/** Guided by coverage: a reply in pieces of any length is framed as it is in one piece. */
class FramingFuzzTest {
  static List<byte[]> replies() {
    return Stream.of(
            "01+1.0E-03\n", "13A\r\nB\r", "29\r\n\r\n", "57#15abcde\n", "68#10\r\n", "71#0x")
        .map(text -> text.getBytes(StandardCharsets.ISO_8859_1))
        .toList();
  }

  /** The first byte chooses the frame, the second the length of the pieces. */
  @MethodSource("replies")
  @FuzzTest
  void isFramedInPiecesAsInOne(byte[] bytes) {
    if (bytes.length < 3) {
      return;
    }
    byte[] reply = Arrays.copyOfRange(bytes, 2, bytes.length);
    int kind = bytes[0] & 0xff;
    assertEquals(
        FuzzedBytesTest.framed(frame(kind), reply, reply.length),
        FuzzedBytesTest.framed(frame(kind), reply, 1 + (bytes[1] & 7)));
  }

  private static ReplyFrame frame(int kind) {
    ReplyEnd[] ends = ReplyEnd.values();
    return FuzzedBytesTest.frame(kind / ends.length % 2 == 1, ends[kind % ends.length]);
  }
}
