// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import java.util.Arrays;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.quantity.NumberText;

/**
 * The three standard streams of a command and whether a person sits behind them.
 *
 * <p>Standard output carries the output of a command, standard error everything else.
 *
 * @param in the input of a person or a program
 * @param out the output of the command
 * @param err progress, warnings and errors
 * @param terminal the terminal, where a person may watch
 */
public record Console(InputStream in, PrintStream out, PrintStream err, Terminal terminal) {
  /** Columns without a window. */
  private static final int PAPER = 80;

  /**
   * The streams of this process. The launcher knows whether the streams are a terminal.
   *
   * @return the console
   */
  public static Console ofProcess() {
    return new Console(
        System.in,
        new StandardStream(new FileOutputStream(FileDescriptor.out), 1),
        new StandardStream(new FileOutputStream(FileDescriptor.err), 2),
        Terminal.ofProcess());
  }

  /** Tells whether a person is at a terminal and can answer. */
  public boolean interactive() {
    return terminal.attended();
  }

  /**
   * Prints one line on standard output. The line may contain text from an instrument or a file, so
   * characters that control a terminal or the direction of writing are shown by their code. On a
   * terminal it is broken between words.
   *
   * @param line the line, or several
   */
  public void print(String line) {
    String safe = visible(line);
    out.println(terminal.shown() ? wrapped(safe) : safe);
  }

  /**
   * Prints output for programs, such as JSON: its lines stay as they are.
   *
   * @param text the document
   */
  public void document(String text) {
    out.println(visible(text));
  }

  /**
   * Prints one line on standard error, with the same protection; on a terminal it is broken between
   * words.
   *
   * @param line the line, or several
   */
  public void error(String line) {
    String safe = visible(line);
    err.println(terminal.attended() ? wrapped(safe) : safe);
  }

  private String wrapped(String lines) {
    return Arrays.stream(lines.split("\n", -1))
        .map(l -> l.length() > terminal.columns() ? Wrapped.at(terminal.columns(), l) : l)
        .collect(Collectors.joining("\n"));
  }

  /**
   * Prints a paragraph on standard output, broken between words at the width of the window, or at
   * 80 columns without a terminal.
   *
   * @param text one line; its leading blanks indent all lines
   */
  public void paragraph(String text) {
    out.println(Wrapped.at(terminal.shown() ? terminal.columns() : PAPER, visible(text)));
  }

  /**
   * Prints a table on standard output, folded if the terminal is too narrow for it.
   *
   * @param table its lines
   */
  public void table(String table) {
    String safe = visible(table);
    out.println(terminal.shown() ? FoldedTable.at(terminal.columns(), safe) : safe);
  }

  /** Line ends and tabs stay; codes have the form of JSON, so that a document keeps its meaning. */
  public static String visible(String text) {
    if (text.codePoints().noneMatch(Console::commands)) {
      return text;
    }
    StringBuilder shown = new StringBuilder();
    text.codePoints().forEach(c -> append(shown, c));
    return shown.toString();
  }

  private static void append(StringBuilder shown, int codePoint) {
    for (char unit : Character.toChars(codePoint)) {
      shown.append(commands(codePoint) ? NumberText.format("\\u%04x", (int) unit) : "" + unit);
    }
  }

  private static boolean commands(int c) {
    boolean layout = c == '\n' || c == '\t';
    return Character.getType(c) == Character.FORMAT || (Character.isISOControl(c) && !layout);
  }

  /**
   * The reason why standard output is incomplete, such as a full disk. A reader that closes its end
   * early, as {@code head} does, is no error.
   *
   * @return the system's reason; empty if everything was written or the reader left
   */
  public Optional<String> lost() {
    return lost(out);
  }

  /** The same for standard error. */
  public Optional<String> lostBeside() {
    return lost(err);
  }

  private static Optional<String> lost(PrintStream stream) {
    if (!stream.checkError()) {
      return Optional.empty();
    }
    return stream instanceof StandardStream known ? known.lost() : Optional.of("it was closed");
  }

  /**
   * The message for a failure of standard output.
   *
   * @param reason the system's, as {@link #lost()} gives it
   * @return sentences
   */
  public static String outputLost(String reason) {
    return "standard output cannot be written (%s): what was to stand there is not whole. Free some space or send it elsewhere, and ask again."
        .formatted(reason);
  }

  /** Standard output as a stream, for long output that should stop at the first failure. */
  public OutputStream checked() {
    return new OutputStream() {
      @Override
      public void write(int b) throws IOException {
        write(new byte[] {(byte) b}, 0, 1);
      }

      @Override
      public void write(byte[] from, int at, int count) throws IOException {
        out.write(from, at, count);
        if (out.checkError()) {
          throw new IOException("standard output takes no more");
        }
      }
    };
  }

  /** Flushes both streams. */
  public void flush() {
    out.flush();
    err.flush();
  }
}
