package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;

/**
 * What one command said.
 *
 * @param code its exit code
 * @param out standard output
 * @param err standard error
 */
record Spoken(int code, String out, String err) {

  static Spoken by(String... words) {
    return typing("", words);
  }

  /** With what a person types, line by line. */
  static Spoken typing(String typed, String... words) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    Console console =
        new Console(
            new ByteArrayInputStream(typed.getBytes(UTF_8)),
            new PrintStream(out, true, UTF_8),
            new PrintStream(err, true, UTF_8),
            false);
    int code = Main.run(words, console);
    return new Spoken(code, out.toString(UTF_8), err.toString(UTF_8));
  }
}
