// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.io.PrintStream;
import java.util.function.UnaryOperator;
import millrace.terminal.Console;
import millrace.terminal.Consoles;

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

  /** A command that ends well. */
  static Spoken done(String... words) {
    Spoken said = by(words);
    assertEquals(0, said.code(), said.err());
    return said;
  }

  /** The readings among the examples, put into a logbook. */
  static void importExample(String logbook) {
    done(
        "import",
        "examples/fx-3-by-hand.csv",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--logbook",
        logbook);
  }

  /** With what a person types, line by line. */
  static Spoken typing(String typed, String... words) {
    return with(
        new ByteArrayInputStream(typed.getBytes(UTF_8)), new ByteArrayOutputStream(), false, words);
  }

  /** With a person who reads the last question and answers it. */
  static Spoken answering(UnaryOperator<String> person, String... words) {
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    return with(new Answers(person, err, "? "), err, false, words);
  }

  /** The same at a terminal, where instruments by hand may ask; questions come whole. */
  static Spoken attended(UnaryOperator<String> person, String... words) {
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    return with(new Answers(person, err, "\n? "), err, true, words);
  }

  /** One line for each question, not before it is asked. */
  private static final class Answers extends InputStream {
    private final UnaryOperator<String> person;
    private final ByteArrayOutputStream asked;
    private final String mark;

    Answers(UnaryOperator<String> person, ByteArrayOutputStream asked, String mark) {
      this.person = person;
      this.asked = asked;
      this.mark = mark;
    }

    @Override
    public int read() {
      throw new UnsupportedOperationException("lines are read whole");
    }

    @Override
    public int read(byte[] into, int from, int most) {
      String said = asked.toString(UTF_8);
      String question = said.substring(said.lastIndexOf(mark) + mark.length());
      byte[] line = (person.apply(question) + "\n").getBytes(UTF_8);
      System.arraycopy(line, 0, into, from, line.length);
      return line.length;
    }
  }

  private static Spoken with(
      InputStream in, ByteArrayOutputStream err, boolean attended, String... words) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    Console console =
        Consoles.of(
            in, new PrintStream(out, true, UTF_8), new PrintStream(err, true, UTF_8), attended);
    int code = Main.run(words, console);
    return new Spoken(code, out.toString(UTF_8), err.toString(UTF_8));
  }
}
