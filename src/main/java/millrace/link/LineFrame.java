// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;

/** A reply that is one line of text. */
final class LineFrame implements ReplyFrame {
  private static final int SHOWN = 200;

  private final ReplyEnd end;
  private final int mostBytes;
  private byte[] line = new byte[128];
  private int length;
  private boolean whole;
  private boolean tooLong;

  LineFrame(ReplyEnd end, int mostBytes) {
    this.end = end;
    this.mostBytes = mostBytes;
  }

  @Override
  public int take(byte[] bytes, int from, int to) {
    int at = from;
    while (at < to && !whole && !tooLong) {
      byte b = bytes[at++];
      if (b == '\n' || b == '\r') {
        atEnd(b);
      } else {
        append(b);
      }
    }
    return at;
  }

  private void atEnd(byte b) {
    switch (end) {
      case ANY -> whole = length > 0;
      case LF -> endIf(b == '\n', b, endsWithCr() ? 1 : 0);
      case CR -> {
        if (b == '\r' || length > 0) {
          endIf(b == '\r', b, 0);
        }
      }
      case CRLF -> endIf(b == '\n' && endsWithCr(), b, 1);
      default -> append(b);
    }
  }

  private void endIf(boolean ends, byte b, int surplus) {
    if (ends) {
      length -= surplus;
      whole = true;
    } else {
      append(b);
    }
  }

  private boolean endsWithCr() {
    return length > 0 && line[length - 1] == '\r';
  }

  private void append(byte b) {
    if (length >= mostBytes) {
      tooLong = true;
      return;
    }
    if (length == line.length) {
      line = Arrays.copyOf(line, Math.min(2 * length, mostBytes + 1));
    }
    line[length++] = b;
  }

  /** Ends a line whose end is only marked by silence. */
  void silent() {
    whole = end == ReplyEnd.SILENCE && length > 0;
  }

  @Override
  public boolean whole() {
    return whole;
  }

  @Override
  public Optional<String> fault() {
    return tooLong
        ? Optional.of("is longer than " + mostBytes + " bytes without an end")
        : Optional.empty();
  }

  /** The line without its end, one character a byte. */
  @Override
  public String text() {
    return new String(line, 0, length, StandardCharsets.ISO_8859_1);
  }

  @Override
  public String wanted() {
    return "a line";
  }

  boolean empty() {
    return length == 0;
  }

  @Override
  public String begun() {
    return new String(line, 0, Math.min(SHOWN, length), StandardCharsets.ISO_8859_1);
  }

  @Override
  public void reset() {
    length = 0;
    whole = false;
    tooLong = false;
    if (line.length > 65_536) {
      line = new byte[128];
    }
  }
}
