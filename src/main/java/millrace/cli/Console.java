package millrace.cli;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;

/**
 * The three standard streams of a command and whether a person sits behind them.
 *
 * <p>Standard output carries what a command is asked for, standard error everything else.
 *
 * @param in what a person or a program types
 * @param out what was asked for
 * @param err progress, warnings and errors
 * @param interactive true if a person watches a terminal
 */
public record Console(InputStream in, PrintStream out, PrintStream err, boolean interactive) {

  /**
   * The streams of this process. The launcher knows whether they are a terminal.
   *
   * @return the console
   */
  public static Console ofProcess() {
    return new Console(
        System.in,
        new PrintStream(new FileOutputStream(FileDescriptor.out), false, StandardCharsets.UTF_8),
        new PrintStream(new FileOutputStream(FileDescriptor.err), true, StandardCharsets.UTF_8),
        Boolean.getBoolean("millrace.terminal"));
  }

  /**
   * Prints one line of what was asked for.
   *
   * @param line the line
   */
  public void print(String line) {
    out.println(line);
  }

  /**
   * Prints one line beside it.
   *
   * @param line the line
   */
  public void error(String line) {
    err.println(line);
  }

  /** Writes out what is still held back. */
  public void flush() {
    out.flush();
    err.flush();
  }
}
