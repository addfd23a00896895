// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.nio.file.Files;
import java.nio.file.Path;
import millrace.logbook.Logbook;
import picocli.CommandLine.Option;

/** Which logbook a command works on. */
public final class LogbookOption {
  @Option(
      names = "--logbook",
      paramLabel = "FILE",
      description = "The logbook; ${DEFAULT-VALUE} unless given.")
  private Path logbook = Path.of("millrace.db");

  /** Where it is, or will be. */
  public Path path() {
    return logbook;
  }

  /** The logbook, to be read. */
  public Logbook readOnly() {
    return Logbook.readOnly(logbook);
  }

  /**
   * Whether results can be kept in it: it is no pack, and neither it nor its folder is
   * write-protected.
   */
  public boolean keeps() {
    Path folder = logbook.toAbsolutePath().getParent();
    return !Logbook.isPack(logbook)
        && Files.isWritable(logbook)
        && folder != null
        && Files.isWritable(folder);
  }

  /** The logbook, to be written; it must be there. */
  public Logbook write() {
    return Logbook.open(logbook);
  }

  /** The logbook, to be written; made where there is none. */
  public Logbook writeOrCreate() {
    return Logbook.openOrCreate(logbook);
  }
}
