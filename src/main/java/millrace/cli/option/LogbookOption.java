// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.nio.file.Files;
import java.nio.file.Path;
import millrace.logbook.Logbook;
import picocli.CommandLine.Option;

/** The logbook of a command. */
public final class LogbookOption {
  @Option(
      names = "--logbook",
      paramLabel = "FILE",
      description = "The logbook; ${DEFAULT-VALUE} unless given.")
  private Path logbook = Path.of("millrace.db");

  /** Its present or future path. */
  public Path path() {
    return logbook;
  }

  /** The logbook, for reading. */
  public Logbook readOnly() {
    return Logbook.readOnly(logbook);
  }

  /**
   * Whether results can be stored in it: it is no pack, and neither it nor its folder is
   * write-protected.
   */
  public boolean keeps() {
    Path folder = logbook.toAbsolutePath().getParent();
    return !Logbook.isPack(logbook)
        && Files.isWritable(logbook)
        && folder != null
        && Files.isWritable(folder);
  }

  /** The logbook, for writing; it must exist. */
  public Logbook write() {
    return Logbook.open(logbook);
  }

  /** The logbook, for writing; created if missing. */
  public Logbook writeOrCreate() {
    return Logbook.openOrCreate(logbook);
  }
}
