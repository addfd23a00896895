// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import millrace.assessment.comparison.MeasuredSpread;
import millrace.evidence.DecisionRule.Risks;
import millrace.planning.LimitForecast;
import millrace.sequence.SequenceFile.EarlyEndRule;

/**
 * Searches for the board test that meets both risks in the least mean time (methods.md 12): it
 * begins with the most of everything and takes away what saves the most time, as long as the risks
 * are met. Single-threaded.
 */
public final class BoardSearch {
  /** The number of times each test is computed with new scatter: a U from few readings varies. */
  private static final int TIMES = 3;

  private static final int TIMES_AT_THE_END = 6;

  /**
   * The tolerance on the risks of the richest test, for the scatter of its readings: no other test
   * has smaller risks.
   */
  private static final double NO_WORSE = 1.05;

  private final BoardForecaster forecaster;
  private final List<MeasuredSpread> batch;
  private final Risks stated;
  private final BooleanSupplier timeUp;
  private final Consumer<TriedBoardTest> told;

  /**
   * Creates a search.
   *
   * @param forecaster computes tests
   * @param batch the spread of measured boards; empty to take the spread from the datasheet
   * @param stated the risks to meet
   * @param timeUp whether the search must end with its best result so far
   * @param told receives each computed test
   */
  public BoardSearch(
      BoardForecaster forecaster,
      List<MeasuredSpread> batch,
      Risks stated,
      BooleanSupplier timeUp,
      Consumer<TriedBoardTest> told) {
    this.forecaster = forecaster;
    this.batch = List.copyOf(batch);
    this.stated = stated;
    this.timeUp = timeUp;
    this.told = told;
  }

  /**
   * Searches.
   *
   * @param scope the scope of the test; it has at least one range
   * @return the result of the search
   */
  public BoardPlan find(BoardScope scope) {
    return new OneSearch(scope).plan();
  }

  /** The search for one scope. */
  private final class OneSearch {
    private final BoardScope scope;
    private final int passes;
    private final SettledLimits settled;
    private final BoardSpread spread;
    private final TriedBoardTest richest;
    private final BoardRisks.Computed richestComputed;
    private final Set<String> kept = new TreeSet<>();
    private boolean searched = true;

    OneSearch(BoardScope scope) {
      this.scope = scope;
      this.passes = scope.again().isEmpty() ? 1 : 2;
      this.settled = new SettledLimits(new EarlyEndRule(stated, scope.again()), passes);
      BoardDesign most = BoardDesign.richest(scope);
      this.richestComputed = computed(most, TIMES_AT_THE_END);
      this.spread = BoardSpread.of(scope.datasheet(), batch, richestComputed.first());
      TriedBoardTest unordered = tried(most, richestComputed);
      this.richest = tried(most.inOrder(order(unordered)), richestComputed);
    }

    /** Ranges in the order of bad boards found per second, the most first. */
    private List<String> order(TriedBoardTest test) {
      List<String> ranges = new ArrayList<>(scope.names());
      ranges.sort(
          Comparator.comparingDouble(
              r ->
                  -test.risks().rejected().getOrDefault(r, 0.0)
                      / Math.max(Double.MIN_NORMAL, test.first(r).seconds())));
      return ranges;
    }

    private BoardRisks.Computed computed(BoardDesign design, int times) {
      List<List<LimitForecast>> first = new ArrayList<>();
      List<List<LimitForecast>> whole = new ArrayList<>();
      for (int i = 1; i <= times; i++) {
        first.add(forecaster.limits(BoardSequence.of(design, stated, 1), i));
        whole.add(
            passes == 1
                ? first.get(i - 1)
                : forecaster.limits(BoardSequence.of(design, stated, passes), i));
      }
      return new BoardRisks.Computed(first, whole);
    }

    private TriedBoardTest tried(BoardDesign design, BoardRisks.Computed computed) {
      String sequence = BoardSequence.of(design, stated, passes);
      boolean strict = scope.datasheet().conditionalPassFails();
      TriedBoardTest test =
          new TriedBoardTest(
              design,
              sequence,
              forecaster.stays(sequence),
              BoardRisks.of(spread, computed, settled, strict));
      told.accept(test);
      return test;
    }

    private boolean isHeld(TriedBoardTest test) {
      BoardRisks r = test.risks();
      boolean known =
          r.limits().stream().filter(BoardRisks.LimitRisk::isKnown).count()
              >= richest.risks().limits().stream().filter(BoardRisks.LimitRisk::isKnown).count();
      return known
          && r.consumer() <= Math.max(stated.consumer(), NO_WORSE * richest.risks().consumer())
          && r.producer() <= Math.max(stated.producer(), NO_WORSE * richest.risks().producer());
    }

    BoardPlan plan() {
      Deque<TriedBoardTest> found = new ArrayDeque<>(List.of(richest));
      together(found);
      apart(found);
      TriedBoardTest best = confirmed(found);
      return new BoardPlan(
          best,
          stated,
          spread.sources(),
          new BoardHindrances(stated, spread, richestComputed, scope.datasheet()).of(richest),
          List.copyOf(kept),
          SequentialPasses.of(richestComputed, settled, stated),
          searched);
    }

    /** Reduces a lever in all ranges at once: the largest saving first. */
    private void together(Deque<TriedBoardTest> found) {
      List<BoardLever> open = new ArrayList<>(List.of(BoardLever.values()));
      while (!open.isEmpty()) {
        Optional<TriedBoardTest> best = Optional.empty();
        for (BoardLever lever : List.copyOf(open)) {
          Optional<TriedBoardTest> less = less(found.getLast(), lever, scope.names());
          if (less.isEmpty()) {
            open.remove(lever);
          }
          best = shorter(best, less);
        }
        best.ifPresent(found::addLast);
      }
    }

    private static Optional<TriedBoardTest> shorter(
        Optional<TriedBoardTest> one, Optional<TriedBoardTest> other) {
      boolean otherIs =
          other.isPresent() && (one.isEmpty() || other.get().meanS() < one.get().meanS());
      return otherIs ? other : one;
    }

    /** Reduces a lever range by range. */
    private void apart(Deque<TriedBoardTest> found) {
      for (String range : scope.names()) {
        for (BoardLever lever : BoardLever.values()) {
          Optional<TriedBoardTest> less = less(found.getLast(), lever, List.of(range));
          while (less.isPresent()) {
            found.addLast(less.get());
            less = less(found.getLast(), lever, List.of(range));
          }
        }
      }
    }

    /** The test with less of a lever, if it meets the risks and takes less time. */
    private Optional<TriedBoardTest> less(
        TriedBoardTest than, BoardLever lever, List<String> ranges) {
      if (timeUp.getAsBoolean()) {
        searched = false;
        return Optional.empty();
      }
      Optional<TriedBoardTest> less =
          than.design().less(lever, ranges).map(d -> tried(d, computed(d, TIMES)));
      Optional<TriedBoardTest> held = less.filter(t -> isHeld(t) && t.meanS() < than.meanS());
      if (less.isPresent() && held.isEmpty()) {
        kept.add(lever.text() + why(less.get(), than));
      }
      return held;
    }

    private String why(TriedBoardTest less, TriedBoardTest than) {
      if (isHeld(less)) {
        return less.meanS() >= than.meanS()
            ? ": fewer would take more boards through another pass"
            : "";
      }
      return less.risks().producer() > stated.producer()
          ? ": fewer would fail too many good boards"
          : ": fewer would pass too many bad boards, or leave a limit open";
    }

    /** The last test that still meets the risks when it is computed more often. */
    private TriedBoardTest confirmed(Deque<TriedBoardTest> found) {
      while (found.size() > 1) {
        BoardDesign design = found.removeLast().design();
        TriedBoardTest again = tried(design, computed(design, TIMES_AT_THE_END));
        if (isHeld(again)) {
          List<String> order = order(again);
          return order.equals(List.copyOf(design.steps().keySet()))
              ? again
              : tried(design.inOrder(order), computed(design.inOrder(order), TIMES_AT_THE_END));
        }
      }
      return richest;
    }
  }
}
