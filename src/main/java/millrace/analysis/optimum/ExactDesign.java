// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.optimum;

import java.util.Arrays;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * How often to measure at which of some places, so that the coefficients of a linear model are
 * known best: an exact design, found by exchanging one place for another as long as that helps
 * (Fedorov, Theory of Optimal Experiments, Academic Press 1972, chapter 3, from memory; methods.md
 * 12). Readings scatter alike everywhere. Pure; thread-safe.
 */
public final class ExactDesign {
  private static final double BETTER = 1e-9;
  private static final double SINGULAR = 1e-12;

  private ExactDesign() {}

  /** How bad a design is; the smaller the better. */
  @FunctionalInterface
  public interface Criterion {
    /** Minus the logarithm of the determinant: the volume in which the coefficients lie. */
    Criterion D =
        information ->
            -Arrays.stream(new EigenDecomposition(information).getRealEigenvalues())
                .map(e -> Math.log(Math.max(e, Double.MIN_NORMAL)))
                .sum();

    /**
     * The loss.
     *
     * @param information sum over readings of f f', symmetric, not singular
     * @return any number
     */
    double loss(RealMatrix information);
  }

  /**
   * The best counts.
   *
   * @param places a row a place: the regressors f there, all rows of one length p
   * @param readings how many are taken in all, at least p
   * @param criterion what is to be small
   * @return how many are taken at each place; their sum is {@code readings}
   * @throws IllegalArgumentException if there are fewer places or readings than coefficients
   */
  public static int[] of(double[][] places, int readings, Criterion criterion) {
    int p = places[0].length;
    if (places.length < p || readings < p) {
      throw new IllegalArgumentException(
          "%s places and %s readings for %s coefficients; expected as many of each at least"
              .formatted(places.length, readings, p));
    }
    int[] counts = spread(places.length, readings);
    double loss = loss(places, counts, criterion);
    for (double better = exchange(places, counts, criterion, loss);
        better < loss - BETTER;
        better = exchange(places, counts, criterion, loss)) {
      loss = better;
    }
    return counts;
  }

  /** As evenly as they go, both ends among them. */
  private static int[] spread(int places, int readings) {
    int[] counts = new int[places];
    for (int i = 0; i < readings; i++) {
      double share = readings == 1 ? 0.5 : (double) i / (readings - 1);
      counts[(int) Math.round(share * (places - 1))]++;
    }
    return counts;
  }

  /** Makes the one exchange that helps most; what the loss is then. */
  private static double exchange(
      double[][] places, int[] counts, Criterion criterion, double loss) {
    double least = loss;
    int from = -1;
    int to = -1;
    for (int i = 0; i < counts.length; i++) {
      for (int j = 0; counts[i] > 0 && j < counts.length; j++) {
        if (i != j) {
          move(counts, i, j);
          double tried = loss(places, counts, criterion);
          move(counts, j, i);
          if (tried < least - BETTER) {
            least = tried;
            from = i;
            to = j;
          }
        }
      }
    }
    if (from >= 0) {
      move(counts, from, to);
    }
    return least;
  }

  private static void move(int[] counts, int from, int to) {
    counts[from]--;
    counts[to]++;
  }

  private static double loss(double[][] places, int[] counts, Criterion criterion) {
    RealMatrix information = information(places, counts);
    double[] sizes = new EigenDecomposition(information).getRealEigenvalues();
    double least = Arrays.stream(sizes).min().orElse(0);
    double most = Arrays.stream(sizes).max().orElse(0);
    return least > SINGULAR * most ? criterion.loss(information) : Double.POSITIVE_INFINITY;
  }

  private static RealMatrix information(double[][] places, int[] counts) {
    int p = places[0].length;
    double[][] sum = new double[p][p];
    for (int i = 0; i < counts.length; i++) {
      for (int a = 0; a < p; a++) {
        for (int b = 0; b < p; b++) {
          sum[a][b] += counts[i] * places[i][a] * places[i][b];
        }
      }
    }
    return new Array2DRowRealMatrix(sum, false);
  }
}
