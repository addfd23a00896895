// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.PipedInputStream;
import java.io.PipedOutputStream;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** What is typed when nobody asked. */
@Timeout(60)
class TypedLineReaderTest {
  private final PipedOutputStream keys = new PipedOutputStream();

  private void press(String text) throws IOException {
    keys.write(text.getBytes(UTF_8));
    keys.flush();
  }

  private TypedLineReader typed(boolean terminal) throws IOException {
    return new TypedLineReader(new PipedInputStream(keys), terminal);
  }

  /** The next board, scanned while this one is tested, is not tested in its place. */
  @Test
  void whatWasTypedBeforeAQuestionStoodThereDoesNotAnswerIt() throws Exception {
    TypedLineReader typed = typed(true);
    press("FX3-00002\n\n");
    assertEquals(List.of("FX3-00002"), typed.fresh());
    press("FX3-00003\n");
    assertEquals(Optional.of("FX3-00003"), typed.line(() -> {}));
  }

  @Test
  void aScannerThatEndsItsLineByTwoStrokesAnswersOneQuestion() throws Exception {
    TypedLineReader typed = typed(true);
    // BufferedReader takes CR LF for one end; a terminal hands it on as two.
    press("FX3-00002\n\nplug was loose\n");
    assertEquals(Optional.of("FX3-00002"), typed.line(() -> {}));
    assertEquals(Optional.of("plug was loose"), typed.line(() -> {}));
  }

  /** All scans of a shift may stand in a file. */
  @Test
  void whereNobodySitsAtATerminalEveryLineCounts() throws Exception {
    TypedLineReader typed = typed(false);
    press("FX3-00002\n\nFX3-00003\n");
    assertEquals(List.of(), typed.fresh());
    assertEquals(Optional.of("FX3-00002"), typed.line(() -> {}));
    assertEquals(Optional.of(""), typed.line(() -> {}));
    assertEquals(Optional.of("FX3-00003"), typed.line(() -> {}));
  }
}
