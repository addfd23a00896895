// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import millrace.fault.BadInputException;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Bytes that nobody meant, in pieces of any length: a frame is whole or has a fault within its
 * bound, whatever the pieces; a recording is read or refused.
 */
class FuzzedBytesTest {
  private static final int MOST = 64;
  private static final String LIKELY = "\n\r#0123456789+-.E,;\"\\x ";

  @Test
  void framesTakeAnything() {
    frames(20_000);
  }

  @Tag("campaign")
  @Test
  void framesTakeAnythingForLong() {
    frames(20_000_000);
  }

  private static void frames(int times) {
    for (int seed = 0; seed < times; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      byte[] bytes = bytes(random);
      ReplyEnd end = ReplyEnd.values()[random.nextInt(ReplyEnd.values().length)];
      boolean block = random.nextBoolean();
      String whole = framed(frame(block, end), bytes, bytes.length);
      String pieces = framed(frame(block, end), bytes, 1 + random.nextInt(5));
      assertEquals(whole, pieces, "seed " + seed);
    }
  }

  static ReplyFrame frame(boolean block, ReplyEnd end) {
    if (end == ReplyEnd.MODBUS_RTU) {
      return new RtuFrame();
    }
    return block ? new BlockFrame(end, MOST) : new LineFrame(end, MOST);
  }

  private static byte[] bytes(SplittableRandom random) {
    byte[] bytes = new byte[1 + random.nextInt(3 * MOST)];
    for (int i = 0; i < bytes.length; i++) {
      boolean likely = random.nextInt(4) > 0;
      bytes[i] =
          (byte) (likely ? LIKELY.charAt(random.nextInt(LIKELY.length())) : random.nextInt(256));
    }
    if (random.nextBoolean()) {
      bytes[0] = '#';
    }
    return bytes;
  }

  /** What the first frame comes to, in words. */
  static String framed(ReplyFrame frame, byte[] bytes, int step) {
    int at = 0;
    while (at < bytes.length && !frame.whole() && frame.fault().isEmpty()) {
      int to = Math.min(bytes.length, at + step);
      int next = frame.take(bytes, at, to);
      assertTrue(next >= at && next <= to, "from " + at + " to " + next);
      assertTrue(next > at || frame.whole() || frame.fault().isPresent(), "no way on at " + at);
      at = next;
    }
    assertTrue(frame.begun().length() <= 1000);
    if (frame.whole() && frame.fault().isEmpty()) {
      assertTrue(frame.text().length() <= (frame instanceof RtuFrame ? 508 : MOST));
      return "whole " + frame.text();
    }
    return frame.fault().map(why -> "fault " + why).orElse("open");
  }

  @Test
  void recordingsAreReadOrRefused() {
    recordings(5_000);
  }

  @Tag("campaign")
  @Test
  void recordingsAreReadOrRefusedForLong() {
    recordings(2_000_000);
  }

  private static void recordings(int times) {
    String whole =
        LinkRecording.HEAD
            + "\n2026-11-25T21:07:03.120Z open tcp 127.0.0.1:5025\n"
            + "2026-11-25T21:07:03.121Z > READ?\\n\n2026-11-25T21:07:03.161Z < +1.0E-03\\x0a\n";
    int refused = 0;
    for (int seed = 0; seed < times; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      StringBuilder text = new StringBuilder(whole);
      for (int n = random.nextInt(4); n >= 0; n--) {
        int at = random.nextInt(text.length());
        text.setCharAt(at, (char) random.nextInt(0x180));
      }
      try {
        LinkRecording.read("t", text.toString());
      } catch (BadInputException e) {
        refused++;
      }
    }
    assertTrue(refused > times / 10, "too tame: " + refused);
  }
}
