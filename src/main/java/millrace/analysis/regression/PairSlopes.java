// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import java.util.Arrays;

/**
 * The slopes of all pairs of points with different x, by rank. Few are sorted; of many the wanted
 * ones are found by their digits, 16 bits a pass over the pairs, so that they are never in memory
 * together. Pure; thread-safe.
 */
final class PairSlopes {
  /** Up to this number of pairs they are sorted. */
  static final int FEW = 1 << 16;

  private static final int BITS = 16;
  private static final int DIGITS = 1 << BITS;

  private final double[] x;
  private final double[] y;
  private final int count;

  PairSlopes(double[] x, double[] y) {
    this.x = x;
    this.y = y;
    int different = 0;
    for (int i = 0; i < x.length; i++) {
      for (int j = i + 1; j < x.length; j++) {
        different += x[i] != x[j] ? 1 : 0;
      }
    }
    this.count = different;
  }

  /** How many there are. */
  int count() {
    return count;
  }

  /**
   * Those of some ranks.
   *
   * @param ranks from 0 for the least to one less than the count
   * @return one for each rank
   */
  double[] ofRanks(int... ranks) {
    return count <= FEW ? sorted(ranks) : selected(ranks);
  }

  private double[] sorted(int... ranks) {
    double[] slopes = new double[count];
    int n = 0;
    for (int i = 0; i < x.length; i++) {
      for (int j = i + 1; j < x.length; j++) {
        if (x[i] != x[j]) {
          slopes[n++] = slope(i, j);
        }
      }
    }
    Arrays.sort(slopes);
    return Arrays.stream(ranks).mapToDouble(r -> slopes[r]).toArray();
  }

  private double slope(int i, int j) {
    return (y[j] - y[i]) / (x[j] - x[i]);
  }

  private double[] selected(int... ranks) {
    long[] known = new long[ranks.length];
    int[] left = ranks.clone();
    for (int shift = Long.SIZE - BITS; shift >= 0; shift -= BITS) {
      int[][] counts = counted(known, shift);
      for (int r = 0; r < ranks.length; r++) {
        int digit = 0;
        while (left[r] >= counts[r][digit]) {
          left[r] -= counts[r][digit++];
        }
        known[r] = (known[r] << BITS) | digit;
      }
    }
    return Arrays.stream(known).mapToDouble(PairSlopes::number).toArray();
  }

  /** How many slopes of the known first digits have each next digit, for each rank. */
  private int[][] counted(long[] known, int shift) {
    int[][] counts = new int[known.length][DIGITS];
    for (int i = 0; i < x.length; i++) {
      for (int j = i + 1; j < x.length; j++) {
        if (x[i] != x[j]) {
          long digits = digits(slope(i, j)) >>> shift;
          for (int r = 0; r < known.length; r++) {
            if (digits >>> BITS == known[r]) {
              counts[r][(int) (digits & (DIGITS - 1))]++;
            }
          }
        }
      }
    }
    return counts;
  }

  /** Bits that rise with the number, the first one flipped: as sorting orders them. */
  private static long digits(double number) {
    long bits = Double.doubleToRawLongBits(number);
    return bits ^ ((bits >> (Long.SIZE - 1)) | Long.MIN_VALUE);
  }

  private static double number(long digits) {
    return Double.longBitsToDouble(digits ^ ((~digits >> (Long.SIZE - 1)) | Long.MIN_VALUE));
  }
}
