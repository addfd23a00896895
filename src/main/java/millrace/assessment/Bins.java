package millrace.assessment;

import java.util.List;
import java.util.Optional;
import millrace.datasheet.Datasheet;
import millrace.datasheet.StatedLimit;
import millrace.evidence.Limit;
import millrace.evidence.Outcome;
import millrace.evidence.Result;

/** Sorts passing units into the datasheet's bins by measured value. */
public final class Bins {
  private final Datasheet sheet;
  private final List<Result> results;

  private Bins(Datasheet sheet, List<Result> results) {
    this.sheet = sheet;
    this.results = results;
  }

  /**
   * The bin of a unit that passed: the first whose every line its results hold. A line that was not
   * measured is not held.
   *
   * @param sheet the datasheet
   * @param results of the unit
   * @return the name of the bin; empty if there are none, or none takes it
   */
  public static Optional<String> of(Datasheet sheet, List<Result> results) {
    Bins bins = new Bins(sheet, results);
    return sheet.bins().stream()
        .filter(b -> b.lines().stream().allMatch(bins::held))
        .map(Datasheet.Bin::name)
        .findFirst();
  }

  private boolean held(StatedLimit line) {
    return line.range().isPresent()
        ? held(line, line.range().get())
        : sheet.ranges().keySet().stream().allMatch(range -> held(line, range));
  }

  private boolean held(StatedLimit line, String range) {
    Limit limit = line.limit(sheet.ranges().get(range).nominalA());
    List<Result> there =
        results.stream()
            .filter(r -> r.quantity() == line.quantity() && r.range().equals(Optional.of(range)))
            .filter(r -> r.judgement().isPresent())
            .toList();
    return !there.isEmpty() && there.stream().allMatch(r -> inside(r.outcome(), limit));
  }

  private static boolean inside(Outcome outcome, Limit limit) {
    return outcome instanceof Outcome.Value v && limit.contains(v.value());
  }
}
