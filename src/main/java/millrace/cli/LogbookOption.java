package millrace.cli;

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

  Logbook write() {
    return Logbook.open(logbook);
  }

  Logbook writeOrCreate() {
    return Logbook.openOrCreate(logbook);
  }
}
