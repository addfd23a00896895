// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.nio.file.Path;
import java.util.List;

/**
 * Requests to a night from other terminals, whichever of its units they name: the chamber and the
 * instruments are the same for all, so that a stop asked of the second unit stops the night. One
 * thread at a time.
 */
public final class NightRequests {
  /** Nobody asks anything of a computed run. */
  public static final NightRequests NONE = new NightRequests(List.of());

  private final List<RunRequestFile> files;

  private NightRequests(List<RunRequestFile> files) {
    this.files = files;
  }

  /**
   * The requests to the runs of a night.
   *
   * @param logbook their logbook
   * @param runs their numbers there, at least one
   * @return requests made from now on; older ones are ignored
   */
  public static NightRequests of(Path logbook, List<Long> runs) {
    return new NightRequests(runs.stream().map(run -> RunRequestFile.of(logbook, run)).toList());
  }

  /** The requests since the last call, those to one run in the order in which they were made. */
  public List<RunRequestFile.Asked> fresh() {
    return files.stream().flatMap(file -> file.fresh().stream()).toList();
  }
}
