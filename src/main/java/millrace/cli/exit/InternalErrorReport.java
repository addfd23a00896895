// SPDX-License-Identifier: Apache-2.0
package millrace.cli.exit;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import millrace.document.FileMessageText;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.terminal.Console;

/** Reports an internal error of Millrace: a sentence for the person, the rest in a file. */
public final class InternalErrorReport {
  private InternalErrorReport() {}

  /**
   * Says the fault at the terminal and keeps its trace in a file.
   *
   * @param e what was thrown
   * @param console its output
   * @return the exit code that it calls for
   */
  public static int report(Throwable e, Console console) {
    if (e instanceof OutOfMemoryError) {
      console.error(
          "millrace: memory ran out (%s at most). What was asked for is not done; nothing is half-written. Ask for less at once, or give more, as in 'JAVA_TOOL_OPTIONS=-Xmx4g millrace ...'."
              .formatted(
                  QuantityText.print(
                      (double) Runtime.getRuntime().maxMemory(), Dimension.DATA, 3)));
      return ExitCode.LOGBOOK.number();
    }
    if (e instanceof UncheckedIOException io) {
      console.error(
          "millrace: a file cannot be read or written (%s). What was asked for is not done. Check the disk and the permissions, then try again."
              .formatted(FileMessageText.reason(io.getCause())));
      return ExitCode.LOGBOOK.number();
    }
    console.error(
        "millrace: this is a fault of Millrace itself (%s). %s"
            .formatted(e.getClass().getSimpleName(), kept(e)));
    return ExitCode.BAD_INPUT.number();
  }

  private static String kept(Throwable e) {
    try {
      Path file = Files.createTempFile("millrace-fault-", ".txt");
      try (PrintWriter out =
          new PrintWriter(Files.newBufferedWriter(file, StandardCharsets.UTF_8))) {
        for (Throwable t = e; t != null; t = t.getCause()) {
          out.println(t);
          Arrays.stream(t.getStackTrace()).forEach(frame -> out.println("  at " + frame));
        }
      }
      return "What its maker needs is kept in " + file + "; please send it with what you typed.";
    } catch (IOException full) {
      return "What its maker needs could not be kept: " + full.getMessage();
    }
  }
}
