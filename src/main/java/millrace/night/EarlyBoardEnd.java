// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.analysis.conformity.FailedResult;
import millrace.assessment.Assessor;
import millrace.assessment.basis.SharedRunInputs;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.Result;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.planning.boards.SettledLimits;
import millrace.quantity.NumberText;
import millrace.report.words.ResultWords;
import millrace.run.control.RunObserver;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.SequenceFile;

/**
 * Examines the results of a board after each pass over a range, and leaves out what is no longer
 * needed: all that is left once a limit is broken or every limit is met, and what is left of a
 * range whose limits are met (methods.md 12).
 */
final class EarlyBoardEnd implements RunObserver {
  private static final double PERCENT = 100;

  private final Logbook book;
  private final SharedRunInputs read;
  private final boolean stopsAtFirstFail;
  private final Optional<SettledLimits> settled;
  private final Map<String, String> met = new HashMap<>();
  private long run;
  private Optional<String> measured = Optional.empty();
  private Optional<String> ended = Optional.empty();

  /**
   * Creates it for one board.
   *
   * @param book the logbook of its run
   * @param rules the rules of the early end
   * @param looks the largest number of looks at one range
   * @param read what its looks and its judging have in common, read once
   */
  EarlyBoardEnd(Logbook book, SequenceFile.Production rules, int looks, SharedRunInputs read) {
    this.book = book;
    this.read = read;
    this.stopsAtFirstFail = rules.firstFail() == SequenceFile.FirstFail.STOP;
    this.settled = rules.earlyEnd().map(risks -> new SettledLimits(risks, looks));
  }

  /** The number of measurements of the range that a plan measures most often; at least 1. */
  static int looks(Plan plan) {
    Map<String, Integer> passes = new HashMap<>();
    Optional<String> measured = Optional.empty();
    for (PlannedPoint point : plan.points()) {
      if (isNext(point, measured)) {
        measured = Optional.empty();
      }
      Optional<String> now = point.conditions().range();
      if (!isZero(point) && now.isPresent() && measured.isEmpty()) {
        passes.merge(now.get(), 1, Integer::sum);
      }
      measured = isZero(point) ? measured : now;
    }
    return passes.values().stream().mapToInt(Integer::intValue).max().orElse(1);
  }

  /** Whether a pass over a range ends here: the next point is in another range, or a zero. */
  private static boolean isNext(PlannedPoint next, Optional<String> measured) {
    return measured.isPresent() && (isZero(next) || !measured.equals(next.conditions().range()));
  }

  private static boolean isZero(PlannedPoint point) {
    return point.task().kind().equals(Optional.of(PointKind.ZERO));
  }

  @Override
  public void began(long run, int points, int done) {
    this.run = run;
  }

  @Override
  public void committed(Point point, List<Reading> readings) {
    if (point.state() != PointState.SKIPPED && point.kind() != PointKind.ZERO) {
      measured = point.conditions().range();
    }
  }

  @Override
  public Optional<String> unneeded(PlannedPoint next) {
    Optional<String> now = next.conditions().range();
    if (ended.isEmpty() && isNext(next, measured)) {
      boolean rangeIsDone = !measured.equals(now);
      measured = Optional.empty();
      look(stopsAtFirstFail && rangeIsDone);
    }
    return ended.or(() -> now.map(met::get));
  }

  private void look(boolean forFirstFail) {
    List<Result> judged;
    try {
      judged =
          Assessor.assess(book.reader(run), read).results().stream()
              .filter(r -> r.judgement().isPresent())
              .toList();
    } catch (NotAnalysableException e) {
      return; // no result yet
    }
    if (forFirstFail) {
      ended = FailedResult.among(judged).stream().findFirst().map(f -> outside(f.result()));
    }
    if (ended.isEmpty()) {
      settled.ifPresent(s -> settle(judged, s));
    }
  }

  private static String outside(Result result) {
    return ResultWords.name(result) + " is outside its limit";
  }

  private void settle(List<Result> judged, SettledLimits by) {
    ended = by.broken(judged).map(EarlyBoardEnd::outside);
    String risk =
        ", each broken with a probability of %s %% at most"
            .formatted(NumberText.significant(PERCENT * by.consumerOfALook(), 2));
    if (ended.isEmpty() && !judged.isEmpty() && judged.stream().allMatch(by::isMet)) {
      ended = Optional.of("every limit is met" + risk);
    }
    Map<String, List<Result>> ranges =
        judged.stream()
            .filter(r -> r.range().isPresent())
            .collect(
                Collectors.groupingBy(
                    r -> r.range().orElseThrow(), LinkedHashMap::new, Collectors.toList()));
    ranges.forEach(
        (range, results) -> {
          if (results.stream().allMatch(by::isMet)) {
            met.putIfAbsent(range, "every limit of range " + range + " is met" + risk);
          }
        });
  }
}
