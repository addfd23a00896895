// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.JudgedRunReader;
import millrace.logbook.Logbook;
import millrace.logbook.ProductionRunPurpose;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;

/** Selects runs that may be compared. */
final class ComparableRunSelection {
  private final Logbook book;
  private final List<RunSummary> kept = new ArrayList<>();
  private final List<String> notes = new ArrayList<>();

  private ComparableRunSelection(Logbook book) {
    this.book = book;
  }

  /**
   * Chooses.
   *
   * @param asked the runs that were asked for
   * @param named true if a person named each run: then a mix of real and simulated runs is refused;
   *     a search leaves the simulated ones out instead
   */
  static ComparableRunSelection of(Logbook book, List<RunSummary> asked, boolean named) {
    ComparableRunSelection selection = new ComparableRunSelection(book);
    List<RunSummary> sorted = new ArrayList<>(asked.stream().distinct().toList());
    sorted.sort(
        Comparator.comparing((RunSummary r) -> r.start().startedAt())
            .thenComparing(RunSummary::id));
    List<RunSummary> alike = selection.apart(sorted, named);
    Set<Long> withdrawn = new JudgedRunReader(book).withdrawn(alike);
    alike.stream().filter(r -> selection.usable(r, named, withdrawn)).forEach(selection.kept::add);
    if (selection.kept.isEmpty()) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(book.name()),
              selection.nothing(asked.size()),
              "at least one run that ended",
              "'millrace runs' lists what there is."));
    }
    return selection;
  }

  private String nothing(int asked) {
    return asked == 0
        ? "no run is of that batch, unit, tag or date; practice on a simulated bench is of no batch"
        : "none of the %s runs asked for can be compared%s"
            .formatted(asked, notes.isEmpty() ? "" : ": " + String.join("; ", notes));
  }

  List<RunSummary> kept() {
    return kept;
  }

  List<String> notes() {
    return notes;
  }

  private List<RunSummary> apart(List<RunSummary> asked, boolean named) {
    List<RunSummary> simulated = asked.stream().filter(ComparableRunSelection::simulated).toList();
    if (simulated.isEmpty() || simulated.size() == asked.size()) {
      return asked;
    }
    RunSummary one = simulated.get(0);
    if (named) {
      RunSummary real = asked.stream().filter(r -> !simulated(r)).findFirst().orElseThrow();
      throw new BadInputException(
          new InputFault(
              FilePlace.of(book.name()),
              "run %s is simulated and run %s is real".formatted(one.id(), real.id()),
              "real units among themselves, or simulated ones among themselves",
              "Compare them apart."));
    }
    notes.add(
        "%s simulated runs are left out: they never stand among real units"
            .formatted(simulated.size()));
    return asked.stream().filter(r -> !simulated(r)).toList();
  }

  private static boolean simulated(RunSummary run) {
    return run.start().origin() == RunOrigin.SIMULATED;
  }

  private boolean usable(RunSummary run, boolean named, Set<Long> withdrawn) {
    if (run.state() != RunState.COMPLETE) {
      notes.add("run %s is left out: it did not end".formatted(run.id()));
      return false;
    }
    if (!named && run.start().facts().purpose().equals(Optional.of(ProductionRunPurpose.CHECK))) {
      notes.add("run %s is left out: it is a self-check of the bench".formatted(run.id()));
      return false;
    }
    if (withdrawn.contains(run.id())) {
      notes.add("run %s is left out: 'do not use' was said of it".formatted(run.id()));
      return false;
    }
    return true;
  }
}
