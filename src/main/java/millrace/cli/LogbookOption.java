package millrace.cli;

import java.nio.file.Files;
import java.nio.file.Path;
import millrace.logbook.Logbook;
import picocli.CommandLine.Option;

/** Which logbook a command works on. */
final class LogbookOption {
  @Option(
      names = "--logbook",
      paramLabel = "FILE",
      description = "The logbook; ${DEFAULT-VALUE} unless given.")
  private Path logbook = Path.of("millrace.db");

  Path path() {
    return logbook;
  }

  Logbook readOnly() {
    return Logbook.readOnly(logbook);
  }

  /**
   * Whether results can be kept in it: it is no pack, and neither it nor its folder is
   * write-protected.
   */
  boolean keeps() {
    Path folder = logbook.toAbsolutePath().getParent();
    return !Logbook.isPack(logbook)
        && Files.isWritable(logbook)
        && folder != null
        && Files.isWritable(folder);
  }

  Logbook write() {
    return Logbook.open(logbook);
  }

  Logbook writeOrCreate() {
    return Logbook.openOrCreate(logbook);
  }
}
