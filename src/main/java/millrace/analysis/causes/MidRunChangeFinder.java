// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import millrace.analysis.causes.CauseObservation.Moment;
import millrace.analysis.causes.CauseObservation.OfCurrent;

/**
 * Causes that began during the measurement (methods.md 9). Each cause is tried with its onset
 * between any two blocks of observations. It becomes a candidate if it explains much more than the
 * same cause present throughout, exceeds its tolerance, and is seen where one range was at the same
 * temperature before and after. Without the last condition a temperature dependence that the model
 * lacks would look like a change.
 */
final class MidRunChangeFinder {
  /** By how much of chi^2 a change must be better than the same cause present throughout. */
  private static final double BETTER = 12;

  /** By how much of chi^2 it must be better than no cause. */
  private static final double WORTH = 25;

  /** Temperatures that differ by less are the same, K. */
  private static final double SAME_K = 3;

  /** Least visible effect on a current, relative (common practice, no source). */
  private static final double SEEN = 5e-6;

  /** How many changes are kept for trial. */
  private static final int MOST = 3;

  private final CauseInferenceProblem problem;
  private final List<OfCurrent> currents;
  private final List<MidRunChange> changes;

  MidRunChangeFinder(CauseInferenceProblem problem, List<OfCurrent> currents) {
    this.problem = problem;
    this.currents = currents;
    this.changes = between(currents);
  }

  private static List<MidRunChange> between(List<OfCurrent> currents) {
    List<Moment> moments =
        currents.stream()
            .flatMap(c -> c.at().stream())
            .distinct()
            .sorted(Comparator.comparingDouble(Moment::timeS))
            .toList();
    List<MidRunChange> changes = new ArrayList<>();
    for (int i = 1; i < moments.size(); i++) {
      changes.add(new MidRunChange(moments.get(i - 1), moments.get(i)));
    }
    return changes;
  }

  /** Between how many blocks of observations a change was looked for. */
  int moments() {
    return changes.size();
  }

  /** Those worth a trial. */
  List<CauseCandidate> among(List<CauseCandidate> throughout) {
    record Tried(CauseCandidate candidate, double chiSquared) {}
    List<Tried> tried = new ArrayList<>();
    for (CauseCandidate c : throughout) {
      if (!c.kind().ofTemperature() && problem.notices(c)) {
        best(c)
            .flatMap(late -> problem.fit(List.of(late), new double[1]))
            .filter(f -> worth(f, c))
            .ifPresent(f -> tried.add(new Tried(f.candidates().get(0), f.chiSquared())));
      }
    }
    return tried.stream()
        .sorted(Comparator.comparingDouble(Tried::chiSquared))
        .limit(MOST)
        .map(Tried::candidate)
        .toList();
  }

  /**
   * The onset at which a cause explains most, to first order; where several explain as much, from
   * the first of them to the last.
   */
  private Optional<CauseCandidate> best(CauseCandidate c) {
    double[] slopes = problem.slopes(c);
    double[] promises =
        changes.stream().mapToDouble(change -> problem.promise(after(change, slopes))).toArray();
    double most = Arrays.stream(promises).max().orElse(0);
    if (most < WORTH) {
      return Optional.empty();
    }
    int[] alike =
        IntStream.range(0, promises.length)
            .filter(i -> promises[i] > most - ErrorCauseDiagnosis.SEPARATED_CHI_SQUARED)
            .toArray();
    MidRunChange first = changes.get(alike[0]);
    MidRunChange last = changes.get(alike[alike.length - 1]);
    return Optional.of(c.from(new MidRunChange(first.before(), last.after())));
  }

  private double[] after(MidRunChange change, double[] slopes) {
    double[] after = new double[slopes.length];
    for (int i = 0; i < after.length; i++) {
      after[i] = isAfter(i, change) ? slopes[i] : 0;
    }
    return after;
  }

  private boolean isAfter(int i, MidRunChange change) {
    return problem.timeS(i) >= change.after().timeS();
  }

  private boolean worth(CauseFit late, CauseCandidate throughout) {
    double asEver =
        problem
            .fit(List.of(throughout), new double[1])
            .map(CauseFit::chiSquared)
            .orElse(Double.POSITIVE_INFINITY);
    CauseCandidate c = late.candidates().get(0);
    double state = late.states()[0];
    return c.multiple(state) >= 1
        && late.chiSquared() < asEver - BETTER
        && late.chiSquared() < problem.nothing().chiSquared() - WORTH
        && repeated(c.since().orElseThrow(), problem.slopes(throughout), state);
  }

  /** Tells whether some range shows the change at one temperature before and after. */
  private boolean repeated(MidRunChange change, double[] slopes, double state) {
    for (int i = 0; i < currents.size(); i++) {
      if (isAfter(i, change) && Math.abs(slopes[i] * state) >= SEEN && hasBefore(i, change)) {
        return true;
      }
    }
    return false;
  }

  private boolean hasBefore(int i, MidRunChange change) {
    OfCurrent late = currents.get(i);
    return currents.stream()
        .anyMatch(
            c ->
                c.range().equals(late.range())
                    && c.timeS() <= change.before().timeS()
                    && Math.abs(c.degC() - late.degC()) < SAME_K);
  }
}
