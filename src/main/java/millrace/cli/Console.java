package millrace.cli;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import millrace.quantity.Numbers;

/**
 * The three standard streams of a command and whether a person sits behind them.
 *
 * <p>Standard output carries what a command is asked for, standard error everything else.
 *
 * @param in what a person or a program types
 * @param out what was asked for
 * @param err progress, warnings and errors
 * @param terminal where a person may watch
 */
record Console(InputStream in, PrintStream out, PrintStream err, Terminal terminal) {

  /** Streams of which a person at a terminal of the usual width watches all or none. */
  Console(InputStream in, PrintStream out, PrintStream err, boolean interactive) {
    this(in, out, err, interactive ? Terminal.WATCHED : Terminal.NONE);
  }

  /**
   * The streams of this process. The launcher knows whether they are a terminal.
   *
   * @return the console
   */
  static Console ofProcess() {
    return new Console(
        System.in,
        new PrintStream(new FileOutputStream(FileDescriptor.out), false, StandardCharsets.UTF_8),
        new PrintStream(new FileOutputStream(FileDescriptor.err), true, StandardCharsets.UTF_8),
        Terminal.ofProcess());
  }

  /** Tells whether a person watches a terminal and can answer. */
  boolean interactive() {
    return terminal.attended();
  }

  /**
   * Prints one line of what was asked for. What an instrument or a file said may stand in it, so
   * characters that command a terminal or turn the direction of writing are shown by their number.
   *
   * @param line the line, or several
   */
  void print(String line) {
    out.println(visible(line));
  }

  /**
   * Prints one line beside it, as safely.
   *
   * @param line the line, or several
   */
  void error(String line) {
    err.println(visible(line));
  }

  /**
   * Prints a table that was asked for, folded where a terminal is too narrow for it.
   *
   * @param table its lines
   */
  void table(String table) {
    String safe = visible(table);
    out.println(terminal.shown() ? Folded.at(terminal.columns(), safe) : safe);
  }

  /** Line ends and tabs stay; the form is that of JSON, so that a document keeps its meaning. */
  static String visible(String text) {
    if (text.codePoints().noneMatch(Console::commands)) {
      return text;
    }
    StringBuilder shown = new StringBuilder();
    text.codePoints().forEach(c -> append(shown, c));
    return shown.toString();
  }

  private static void append(StringBuilder shown, int codePoint) {
    for (char unit : Character.toChars(codePoint)) {
      shown.append(commands(codePoint) ? Numbers.format("\\u%04x", (int) unit) : "" + unit);
    }
  }

  private static boolean commands(int c) {
    boolean layout = c == '\n' || c == '\t';
    return Character.getType(c) == Character.FORMAT || (Character.isISOControl(c) && !layout);
  }

  /** Writes out what is still held back. */
  void flush() {
    out.flush();
    err.flush();
  }
}
