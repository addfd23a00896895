package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import org.junit.jupiter.api.Test;

class MainTest {
  /** An output that fails as a machine does that is out of memory. */
  private static final class Failing extends OutputStream {
    @Override
    public void write(int b) {
      throw new InternalError("planted");
    }
  }

  @Test
  void whatTheMachineFailsAtIsToldInASentenceAndIsNotTakenForAFailedLimit() {
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    Console console =
        new Console(
            InputStream.nullInputStream(),
            new PrintStream(new Failing(), true, UTF_8),
            new PrintStream(err, true, UTF_8),
            false);
    assertEquals(2, Main.run(new String[] {"schema", "sequence"}, console));
    String said = err.toString(UTF_8);
    assertTrue(said.contains("a fault of Millrace itself (InternalError)"), said);
    assertFalse(said.contains("\tat "), said);
  }
}
