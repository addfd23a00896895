// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;

/**
 * A reply that is a definite-length arbitrary block: {@code #}, one digit that counts the digits of
 * the length, the length, that many bytes, and the end of a message (IEEE 488.2-1992, 8.7.9).
 * Blocks of indefinite length (8.7.10, {@code #0}) end only with an END signal on the bus, which
 * sockets and serial lines do not have, so they are refused.
 */
final class BlockFrame implements ReplyFrame {
  private static final int SHOWN = 200;

  /** What the next byte must be. */
  private enum State {
    HASH,
    DIGIT_COUNT,
    LENGTH,
    BODY,
    END,
    LF_OF_END,
    WHOLE,
    FAULTY
  }

  private final ReplyEnd end;
  private final int mostBytes;
  private State state = State.HASH;
  private String fault = "";
  private final StringBuilder head = new StringBuilder();
  private int digitsLeft;
  private long length;
  private byte[] body = new byte[0];
  private int filled;

  BlockFrame(ReplyEnd end, int mostBytes) {
    this.end = end;
    this.mostBytes = mostBytes;
  }

  @Override
  public int take(byte[] bytes, int from, int to) {
    int at = from;
    while (at < to && state != State.WHOLE && state != State.FAULTY) {
      if (state == State.BODY) {
        at += fill(bytes, at, to);
      } else {
        one(bytes[at++]);
      }
    }
    return at;
  }

  private int fill(byte[] bytes, int at, int to) {
    int n = Math.min(to - at, body.length - filled);
    System.arraycopy(bytes, at, body, filled, n);
    filled += n;
    if (filled == body.length) {
      state = end == ReplyEnd.SILENCE ? State.WHOLE : State.END;
    }
    return n;
  }

  private void one(byte b) {
    if (state != State.END && state != State.LF_OF_END) {
      head.append((char) (b & 0xff));
    }
    switch (state) {
      case HASH -> hash(b);
      case DIGIT_COUNT -> digitCount(b);
      case LENGTH -> lengthDigit(b);
      case END -> end(b);
      case LF_OF_END -> expect(b == '\n', "is not followed by LF");
      default -> throw new IllegalStateException("a frame in state " + state + " takes no byte");
    }
  }

  private void hash(byte b) {
    if (b == '#') {
      state = State.DIGIT_COUNT;
    } else if (b == '\n' || b == '\r') {
      head.setLength(0);
    } else {
      refuse("does not begin with '#'");
    }
  }

  private void digitCount(byte b) {
    if (b == '0') {
      refuse(
          "is a block of indefinite length, whose end a socket or serial line cannot show; set the"
              + " instrument to blocks of definite length");
    } else if (b >= '1' && b <= '9') {
      digitsLeft = b - '0';
      state = State.LENGTH;
    } else {
      refuse("has no digit behind '#'");
    }
  }

  private void lengthDigit(byte b) {
    if (b < '0' || b > '9') {
      refuse("has a length that is no number");
      return;
    }
    length = 10 * length + (b - '0');
    if (--digitsLeft > 0) {
      return;
    }
    if (length > mostBytes) {
      refuse("announces " + length + " bytes, more than the " + mostBytes + " that are taken");
      return;
    }
    body = new byte[(int) length];
    state = length > 0 ? State.BODY : end == ReplyEnd.SILENCE ? State.WHOLE : State.END;
  }

  private void end(byte b) {
    if (b == '\r' && (end == ReplyEnd.CRLF || end == ReplyEnd.LF)) {
      state = State.LF_OF_END;
      return;
    }
    boolean ends =
        switch (end) {
          case ANY -> b == '\n' || b == '\r';
          case LF -> b == '\n';
          case CR -> b == '\r';
          case CRLF, SILENCE, MODBUS_RTU -> false;
        };
    expect(ends, "goes on behind its announced length");
  }

  private void expect(boolean there, String otherwise) {
    if (there) {
      state = State.WHOLE;
    } else {
      refuse(otherwise);
    }
  }

  private void refuse(String why) {
    fault = why;
    state = State.FAULTY;
  }

  @Override
  public boolean whole() {
    return state == State.WHOLE;
  }

  @Override
  public Optional<String> fault() {
    return state == State.FAULTY ? Optional.of(fault) : Optional.empty();
  }

  @Override
  public String text() {
    return new String(body, 0, filled, StandardCharsets.ISO_8859_1);
  }

  @Override
  public String wanted() {
    return "a block of definite length";
  }

  byte[] bytes() {
    return Arrays.copyOf(body, filled);
  }

  @Override
  public String begun() {
    int shown = Math.min(SHOWN, filled);
    return head + new String(body, 0, shown, StandardCharsets.ISO_8859_1);
  }

  @Override
  public void reset() {
    state = State.HASH;
    fault = "";
    head.setLength(0);
    length = 0;
    body = new byte[0];
    filled = 0;
  }
}
