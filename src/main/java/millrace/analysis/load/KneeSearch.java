// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import millrace.quantity.NumberText;

/**
 * Which load to try next to find the knee (methods.md 3.5): bisection over load between the last
 * point inside and the first outside until the bracket is below the asked resolution. A pure
 * function of what was tried; no more steps than log2 allows plus two. Thread-safe.
 */
public final class KneeSearch {
  private KneeSearch() {}

  /**
   * A load that was tried.
   *
   * @param loadOhm everything in series, ohm
   * @param currentA the current, A
   */
  public record Tried(double loadOhm, double currentA) {}

  /**
   * What is asked.
   *
   * @param plateauA current at low load, A, not 0
   * @param criterion d, by which ratio the current has fallen at the knee
   * @param resolutionV how narrow the bracket must become, V, above 0
   * @param leastOhm lowest load that can be set, ohm
   * @param mostOhm highest load that can be set, ohm
   */
  public record Question(
      double plateauA, double criterion, double resolutionV, double leastOhm, double mostOhm) {
    /** Checks that the search can end. */
    public Question {
      if (!(resolutionV > 0) || !(mostOhm > leastOhm) || plateauA == 0) {
        throw new IllegalArgumentException(
            "knee search from %s to %s ohm with a resolution of %s V at %s A; expected rising loads,"
                    .formatted(leastOhm, mostOhm, resolutionV, plateauA)
                + " a resolution above 0 and a current");
      }
    }

    /** The most loads that are tried beside the two ends. */
    int mostSteps() {
      double brackets = Math.abs(plateauA) * (mostOhm - leastOhm) / resolutionV;
      return NumberText.halvings(Math.max(1, brackets)) + 2;
    }
  }

  /**
   * The next load to try (methods.md 3.5).
   *
   * @param tried what was tried, in any order; may be empty
   * @param question what is asked
   * @return the load, ohm; empty when the bracket is narrow enough, the knee lies beyond the
   *     highest load or below the lowest, or the steps are used up
   */
  public static OptionalDouble next(List<Tried> tried, Question question) {
    List<Tried> sorted = new ArrayList<>(tried);
    sorted.sort(Comparator.comparingDouble(Tried::loadOhm));
    if (sorted.isEmpty() || sorted.get(0).loadOhm() > question.leastOhm()) {
      return OptionalDouble.of(question.leastOhm());
    }
    int outside = 0;
    while (outside < sorted.size() && inside(sorted.get(outside), question)) {
      outside++;
    }
    if (outside == sorted.size()) {
      double highest = sorted.get(outside - 1).loadOhm();
      return highest < question.mostOhm()
          ? OptionalDouble.of(question.mostOhm())
          : OptionalDouble.empty();
    }
    if (outside == 0 || tried.size() >= question.mostSteps() + 2) {
      return OptionalDouble.empty();
    }
    double low = sorted.get(outside - 1).loadOhm();
    double high = sorted.get(outside).loadOhm();
    boolean narrow = Math.abs(question.plateauA()) * (high - low) <= question.resolutionV();
    return narrow ? OptionalDouble.empty() : OptionalDouble.of((low + high) / 2);
  }

  private static boolean inside(Tried t, Question question) {
    return t.currentA() / question.plateauA() > 1 - question.criterion();
  }
}
