package millrace.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;

/**
 * What happens to a fault of Millrace itself: the person reads a sentence, a file keeps the rest.
 */
final class Unexpected {
  private Unexpected() {}

  static int report(Throwable e, Console console) {
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
