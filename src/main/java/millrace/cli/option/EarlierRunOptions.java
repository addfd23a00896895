// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.nio.file.Path;
import java.util.Optional;
import millrace.logbook.Logbook;
import millrace.night.forecast.Earlier;
import picocli.CommandLine.Option;

/** The run of an earlier unit for a forecast, and its logbook. */
public final class EarlierRunOptions {
  @Option(
      names = "--like",
      paramLabel = "RUN",
      description =
          "A run of an earlier unit, by number or UUID: its errors are expected, and the scatter of"
              + " its readings.")
  private Optional<String> like = Optional.empty();

  @Option(
      names = "--logbook",
      paramLabel = "FILE",
      description = "Where earlier runs are kept, and new ones would be; default millrace.db.")
  private Path logbook = Path.of("millrace.db");

  /** Read once: its assessment takes as long as any. */
  private Optional<Earlier> read = Optional.empty();

  /** The run as given; empty without one. */
  public Optional<String> run() {
    return like;
  }

  /** The logbook, which need not exist without a run. */
  public Path logbook() {
    return logbook;
  }

  /**
   * The data of that run.
   *
   * @param lineHz frequency of the line, Hz
   * @return {@link Earlier#NONE} without a run
   * @throws millrace.fault.MillraceException if there is no such run, or it cannot be analysed
   */
  public Earlier earlier(double lineHz) {
    if (like.isEmpty()) {
      return Earlier.NONE;
    }
    if (read.isEmpty()) {
      try (Logbook book = Logbook.readOnly(logbook)) {
        read = Optional.of(Earlier.of(book.reader(book.find(like.get()).id()), lineHz));
      }
    }
    return read.orElseThrow();
  }
}
