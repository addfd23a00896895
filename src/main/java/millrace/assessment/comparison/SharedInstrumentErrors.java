// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.Logbook;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunSummary;

/**
 * Finds whether instrument errors are the same in two runs: same instruments, same certificates and
 * same set-up; on a simulated bench, errors drawn with the same seed.
 *
 * @param book the logbook of the runs
 */
record SharedInstrumentErrors(Logbook book) {
  static boolean of(Logbook book, RunSummary a, RunSummary b) {
    return a.setUp().equals(b.setUp()) && inAnySetUp(book, a, b);
  }

  /** The same, whatever the connection of the unit. */
  static boolean inAnySetUp(Logbook book, RunSummary a, RunSummary b) {
    return new SharedInstrumentErrors(book).alike(a, b);
  }

  private boolean alike(RunSummary a, RunSummary b) {
    return a.start().simulation().equals(b.start().simulation())
        && otherBenches(a).equals(otherBenches(b))
        && instruments(a).equals(instruments(b));
  }

  /** The bench files of the last judgement of a run, if they are not its own. */
  private List<RunEvaluation.OtherBench> otherBenches(RunSummary run) {
    return book.reader(run.id()).evaluations().stream()
        .reduce((a, b) -> b)
        .map(RunEvaluation::otherBenches)
        .orElse(List.of());
  }

  /** The identity of an instrument: its identification reply and its certificate. */
  private Map<String, String> instruments(RunSummary run) {
    Map<String, String> instruments = new HashMap<>();
    for (InstrumentEntry e : book.reader(run.id()).instruments()) {
      instruments.put(
          e.name() + " as " + e.roles(),
          e.identity() + ", " + e.certificate().map(Object::toString).orElse("no certificate"));
    }
    return instruments;
  }
}
