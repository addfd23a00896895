package millrace.link;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Optional;

/**
 * Takes bytes as they come and gives whole lines: a line ends with CR, LF or CRLF; empty lines are
 * passed over, so the LF behind a CR never becomes a reply. Single-threaded.
 */
final class LineFrame {
  private final int mostBytes;
  private final ByteArrayOutputStream line = new ByteArrayOutputStream(64);
  private boolean tooLong;

  LineFrame(int mostBytes) {
    this.mostBytes = mostBytes;
  }

  /**
   * Takes one byte.
   *
   * @return a whole line if this byte ended one
   */
  Optional<String> take(byte b) {
    if (b == '\n' || b == '\r') {
      if (line.size() == 0) {
        return Optional.empty();
      }
      String text = line.toString(StandardCharsets.ISO_8859_1);
      line.reset();
      return Optional.of(text);
    }
    if (line.size() >= mostBytes) {
      tooLong = true;
    } else {
      line.write(b);
    }
    return Optional.empty();
  }

  /** What has come of a line that has not ended. */
  String begun() {
    return line.toString(StandardCharsets.ISO_8859_1);
  }

  /** Tells whether a line grew beyond the bound. */
  boolean tooLong() {
    return tooLong;
  }

  void reset() {
    line.reset();
    tooLong = false;
  }
}
