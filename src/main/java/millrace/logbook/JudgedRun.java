// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.List;
import java.util.Optional;
import millrace.evidence.Result;

/**
 * A run with its last judging, and with what it is grouped by.
 *
 * @param run the run
 * @param judging its last judging; empty if it was never judged
 * @param datasheetSha256 the datasheet of the last judging, else the last one among its files;
 *     empty if there is none
 * @param doubtfulPoints points that are flagged, skipped or were left open; 0 or more
 * @param instruments that it used, in the order of noting
 * @param setUp that the unit was measured in; empty if none was noted
 */
public record JudgedRun(
    RunSummary run,
    Optional<Judging> judging,
    Optional<String> datasheetSha256,
    long doubtfulPoints,
    List<InstrumentEntry> instruments,
    Optional<FixtureSetUp> setUp) {
  /** Copies the list. */
  public JudgedRun {
    instruments = List.copyOf(instruments);
  }

  /**
   * What a judging found.
   *
   * @param results in the order of saving; their budgets are empty
   * @param bin that takes the measured values; empty if there are no bins, or none does
   */
  public record Judging(List<Result> results, Optional<String> bin) {
    /** Copies the list. */
    public Judging {
      results = List.copyOf(results);
    }
  }

  /**
   * The results of its last judging.
   *
   * @return without budgets; empty if it was never judged
   */
  public List<Result> results() {
    return judging.map(Judging::results).orElse(List.of());
  }
}
