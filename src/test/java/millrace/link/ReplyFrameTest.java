// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

class ReplyFrameTest {
  private static byte[] latin(String text) {
    return text.getBytes(StandardCharsets.ISO_8859_1);
  }

  /** Lets a frame take a stream that comes in pieces, and gives every line it makes of it. */
  private static List<String> lines(LineFrame frame, String stream, List<Integer> cuts) {
    List<String> lines = new ArrayList<>();
    byte[] all = latin(stream);
    int from = 0;
    for (int cut : cuts) {
      int at = from;
      while (at < cut) {
        at = frame.take(all, at, cut);
        if (frame.whole()) {
          lines.add(frame.text());
          frame.reset();
        }
      }
      from = cut;
    }
    return lines;
  }

  static Stream<Arguments> streams() {
    return Stream.of(
        Arguments.of(ReplyEnd.ANY, "+1.0E-3\n", List.of("+1.0E-3")),
        Arguments.of(ReplyEnd.ANY, "a\r\nb\rc\n", List.of("a", "b", "c")),
        Arguments.of(ReplyEnd.ANY, "\r\n\r\na\n", List.of("a")),
        Arguments.of(ReplyEnd.LF, "a\nb\r\n\n", List.of("a", "b", "")),
        Arguments.of(ReplyEnd.LF, "a\rb\n", List.of("a\rb")),
        Arguments.of(ReplyEnd.CR, "a\r\nb\r\r", List.of("a", "b", "")),
        Arguments.of(ReplyEnd.CR, "a\nb\r", List.of("a\nb")),
        Arguments.of(ReplyEnd.CRLF, "a\r\nb\nc\rd\r\n", List.of("a", "b\nc\rd")),
        Arguments.of(ReplyEnd.ANY, "\u0000\u00ff\u0080\n", List.of("\u0000\u00ff\u0080")));
  }

  @ParameterizedTest
  @MethodSource("streams")
  void aLineIsTheSameHoweverItIsChopped(ReplyEnd end, String stream, List<String> expected) {
    int n = stream.length();
    for (int mask = 0; mask < 1 << (n - 1); mask++) {
      int chosen = mask;
      List<Integer> cuts =
          IntStream.rangeClosed(1, n)
              .filter(i -> i == n || (chosen >> (i - 1) & 1) == 1)
              .boxed()
              .toList();
      assertEquals(expected, lines(new LineFrame(end, 100), stream, cuts), cuts::toString);
    }
  }

  @Test
  void aLineWithoutEndIsRefusedAtTheBound() {
    LineFrame frame = new LineFrame(ReplyEnd.ANY, 1000);
    byte[] junk = new byte[4096];
    Arrays.fill(junk, (byte) 'x');
    assertEquals(1001, frame.take(junk, 0, junk.length));
    assertEquals("is longer than 1000 bytes without an end", frame.fault().orElseThrow());
    assertFalse(frame.whole());
  }

  @Test
  void aLineOfExactlyTheBoundIsTaken() {
    LineFrame frame = new LineFrame(ReplyEnd.LF, 3);
    frame.take(latin("abc\n"), 0, 4);
    assertTrue(frame.whole());
    assertEquals("abc", frame.text());
  }

  @Test
  void onlySilenceEndsALineWithoutEnd() {
    LineFrame frame = new LineFrame(ReplyEnd.SILENCE, 100);
    frame.silent();
    assertFalse(frame.whole());
    frame.take(latin("a\nb"), 0, 3);
    assertFalse(frame.whole());
    frame.silent();
    assertTrue(frame.whole());
    assertEquals("a\nb", frame.text());
  }

  static Stream<Arguments> blocks() {
    return Stream.of(
        Arguments.of(ReplyEnd.ANY, "#15hello\n", "hello"),
        Arguments.of(ReplyEnd.ANY, "\n#15he\nlo\r", "he\nlo"),
        Arguments.of(ReplyEnd.LF, "#210helloworld\r\n", "helloworld"),
        Arguments.of(ReplyEnd.CRLF, "#10\r\n", ""),
        Arguments.of(ReplyEnd.CR, "#3003a\u00ffb\r", "a\u00ffb"),
        Arguments.of(ReplyEnd.SILENCE, "#15hello", "hello"));
  }

  @ParameterizedTest
  @MethodSource("blocks")
  void aBlockIsTheSameHoweverItIsChopped(ReplyEnd end, String stream, String expected) {
    byte[] all = latin(stream);
    for (int mask = 0; mask < 1 << (all.length - 1); mask++) {
      BlockFrame frame = new BlockFrame(end, 100);
      int from = 0;
      for (int i = 1; i <= all.length; i++) {
        if (i == all.length || (mask >> (i - 1) & 1) == 1) {
          assertEquals(i, frame.take(all, from, i));
          from = i;
        }
      }
      assertTrue(frame.whole());
      assertArrayEquals(latin(expected), frame.bytes());
    }
  }

  static Stream<Arguments> faultyBlocks() {
    return Stream.of(
        Arguments.of("1.0\n", "does not begin with '#'"),
        Arguments.of("#x", "has no digit behind '#'"),
        Arguments.of("#1x", "has a length that is no number"),
        Arguments.of("#9999999999", "announces 999999999 bytes, more than the 100 that are taken"),
        Arguments.of("#11ab\n", "goes on behind its announced length"),
        Arguments.of(
            "#0text\n",
            "is a block of indefinite length, whose end a socket or serial line cannot show; set"
                + " the instrument to blocks of definite length"));
  }

  @ParameterizedTest
  @MethodSource("faultyBlocks")
  void aFaultyBlockIsRefusedWithTheReason(String stream, String reason) {
    BlockFrame frame = new BlockFrame(ReplyEnd.LF, 100);
    byte[] all = latin(stream);
    frame.take(all, 0, all.length);
    assertEquals(reason, frame.fault().orElseThrow());
    assertFalse(frame.whole());
  }

  @ParameterizedTest
  @EnumSource(ReplyEnd.class)
  void noBytesWhateverMakeAFrameFailOrGrow(ReplyEnd end) {
    SplittableRandom random = new Seeds(7).stream("frames " + end);
    LineFrame line = new LineFrame(end, 50);
    BlockFrame block = new BlockFrame(end, 50);
    for (int i = 0; i < 20_000; i++) {
      byte[] bytes = new byte[1 + random.nextInt(20)];
      random.nextBytes(bytes);
      for (int j = 0; j < bytes.length; j++) {
        bytes[j] = random.nextInt(3) == 0 ? (byte) "#0129\r\n".charAt(random.nextInt(7)) : bytes[j];
      }
      feed(line, bytes);
      feed(block, bytes);
      assertTrue(line.text().length() <= 50);
      assertTrue(block.bytes().length <= 50);
    }
  }

  private static void feed(ReplyFrame frame, byte[] bytes) {
    int at = 0;
    while (at < bytes.length) {
      int next = frame.take(bytes, at, bytes.length);
      assertTrue(next > at);
      at = next;
      if (frame.whole() || frame.fault().isPresent()) {
        frame.reset();
      }
    }
  }
}
