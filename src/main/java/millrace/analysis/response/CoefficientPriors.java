// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;

/**
 * The terms of a range, which of them are free, and the prior knowledge of the others (methods.md
 * 11.1, 11.6).
 *
 * @param terms the columns
 * @param rows prior rows of all coefficients except D
 * @param doublingK prior mean of D, K
 * @param doublingSdK its standard deviation, K
 * @param doublingFrom source of D; empty for the default
 * @param perKelvin sensitivity of y to an error of the temperature, 1/K: the slope over
 *     temperature, or its prior if that was not measured
 */
record CoefficientPriors(
    ResponseTerms terms,
    List<CoefficientPrior> rows,
    double doublingK,
    double doublingSdK,
    Optional<BorrowedCoefficients> doublingFrom,
    double perKelvin) {
  private static final double LEAKAGE_A = 5e-12;
  private static final double SLOPE_PER_K = 30e-6;
  private static final double DRIFT_PER_H = 0.5e-6;
  private static final double SHARE_PER_V = 0.3;
  private static final double PER_K = 0.01;
  private static final double ORDER_K = 200;
  private static final double DOUBLING_SD_K = 1.5;

  /** A part of a covariance below this share is rounding error. */
  private static final double LEAST_SHARE = 1e-12;

  /** The bends over V: k and j of g_kj. */
  private static final Map<ResponseCoefficient, int[]> BENDS =
      Map.ofEntries(
          Map.entry(ResponseCoefficient.G_01, new int[] {0, 1}),
          Map.entry(ResponseCoefficient.G_02, new int[] {0, 2}),
          Map.entry(ResponseCoefficient.G_03, new int[] {0, 3}),
          Map.entry(ResponseCoefficient.G_10, new int[] {1, 0}),
          Map.entry(ResponseCoefficient.G_11, new int[] {1, 1}),
          Map.entry(ResponseCoefficient.G_12, new int[] {1, 2}),
          Map.entry(ResponseCoefficient.G_13, new int[] {1, 3}),
          Map.entry(ResponseCoefficient.G_20, new int[] {2, 0}),
          Map.entry(ResponseCoefficient.G_21, new int[] {2, 1}),
          Map.entry(ResponseCoefficient.G_22, new int[] {2, 2}),
          Map.entry(ResponseCoefficient.G_23, new int[] {2, 3}));

  static CoefficientPriors of(
      ResponseFitPoints m, ResponseTermScales scales, List<ResponseSettings.Taken> taken) {
    Set<ResponseCoefficient> present = present(m, scales, taken);
    ResponseTerms terms = ResponseTerms.of(present, m.scaleV());
    Set<ResponseCoefficient> free = free(m, present);
    List<CoefficientPrior> rows = new ArrayList<>();
    Set<ResponseCoefficient> open = EnumSet.copyOf(present);
    open.removeAll(free);
    double doubling = ResponseTermScales.USUAL_D_K;
    double doublingSd = DOUBLING_SD_K;
    Optional<BorrowedCoefficients> doublingFrom = Optional.empty();
    for (ResponseSettings.Taken each : taken) {
      Optional<double[]> d = each.coefficients().valueAndU(ResponseCoefficient.D);
      if (d.isPresent() && doublingFrom.isEmpty()) {
        doubling = d.get()[0];
        doublingSd = d.get()[1];
        doublingFrom = Optional.of(each.from());
      }
      List<ResponseCoefficient> wanted =
          each.coefficients().of().stream().filter(open::contains).toList();
      rows.addAll(foreign(terms, each.coefficients().only(wanted), each.from()));
      wanted.forEach(open::remove);
    }
    open.forEach(c -> rows.add(assumed(terms, c, sd(c, m, scales), origin(c, scales))));
    double perKelvin = free.contains(ResponseCoefficient.A) ? scales.slopePerK() : mayBe(taken);
    return new CoefficientPriors(terms, rows, doubling, doublingSd, doublingFrom, perKelvin);
  }

  /** The sources of rows that are not assumptions, each once. */
  List<BorrowedCoefficients> foreign() {
    return Stream.concat(rows.stream().flatMap(r -> r.from().stream()), doublingFrom.stream())
        .distinct()
        .toList();
  }

  /** Prior of the slope over temperature if it was not measured, 1/K. */
  private static double mayBe(List<ResponseSettings.Taken> taken) {
    return taken.stream()
        .flatMap(t -> t.coefficients().valueAndU(ResponseCoefficient.A).stream())
        .findFirst()
        .map(a -> Math.hypot(a[0], a[1]))
        .orElse(SLOPE_PER_K);
  }

  private static Set<ResponseCoefficient> present(
      ResponseFitPoints m, ResponseTermScales scales, List<ResponseSettings.Taken> taken) {
    Set<ResponseCoefficient> all = EnumSet.allOf(ResponseCoefficient.class);
    all.remove(ResponseCoefficient.D);
    boolean slopeMeasured =
        !m.oneVoltage()
            || taken.stream()
                .anyMatch(t -> t.coefficients().of().contains(ResponseCoefficient.G_0));
    if (!slopeMeasured) {
      all.removeAll(BENDS.keySet());
      all.removeAll(Set.of(ResponseCoefficient.G_0, ResponseCoefficient.G_L));
    }
    boolean doublingMeasured =
        scales.doublingPerV() > 0
            || taken.stream()
                .anyMatch(t -> t.coefficients().of().contains(ResponseCoefficient.L_1));
    if (!slopeMeasured || !doublingMeasured) {
      all.removeAll(Set.of(ResponseCoefficient.L_1, ResponseCoefficient.L_2));
    }
    if (!m.timed()) {
      all.remove(ResponseCoefficient.E);
    }
    if (!m.suppliesDiffer()) {
      all.remove(ResponseCoefficient.K_S);
    }
    return all;
  }

  /**
   * c and G_0; with two or more temperatures also a and G_L; the slope over the supply if it was
   * swept.
   */
  private static Set<ResponseCoefficient> free(
      ResponseFitPoints m, Set<ResponseCoefficient> present) {
    Set<ResponseCoefficient> free = EnumSet.of(ResponseCoefficient.C, ResponseCoefficient.K_S);
    if (!m.oneVoltage()) {
      free.add(ResponseCoefficient.G_0);
    }
    if (m.temperatures().size() > 1) {
      free.add(ResponseCoefficient.A);
    }
    if (m.sweptTemperatures().size() > 1) {
      free.add(ResponseCoefficient.G_L);
    }
    free.retainAll(present);
    return free;
  }

  private static double sd(ResponseCoefficient c, ResponseFitPoints m, ResponseTermScales scales) {
    int[] kj = BENDS.get(c);
    if (kj != null) {
      return scales.mostPerV() * Math.pow(SHARE_PER_V, kj[0]) * Math.pow(PER_K, kj[1]);
    }
    return switch (c) {
      case A -> SLOPE_PER_K;
      case G_L -> scales.mostPerV();
      case I_0 -> LEAKAGE_A / Math.abs(m.data().nominalA());
      case B_2 -> scales.curvature();
      case B_3 -> scales.curvature() / ORDER_K;
      case B_4 -> scales.curvature() / (ORDER_K * ORDER_K);
      case L_1 -> doubling(scales) * SHARE_PER_V;
      case L_2 -> doubling(scales) * SHARE_PER_V * SHARE_PER_V;
      case E -> DRIFT_PER_H;
      default -> throw new IllegalArgumentException(c.text() + " has no default");
    };
  }

  private static double doubling(ResponseTermScales scales) {
    return scales.doublingPerV() > 0 ? scales.doublingPerV() : scales.mostPerV();
  }

  /** Source of a standard deviation: none, or the statement of a part. */
  private static String origin(ResponseCoefficient c, ResponseTermScales scales) {
    boolean stated =
        scales.statedPerK2().isPresent()
            && Set.of(ResponseCoefficient.B_2, ResponseCoefficient.B_3, ResponseCoefficient.B_4)
                .contains(c);
    return stated ? "as parts state: " : "assumed: ";
  }

  private static CoefficientPrior assumed(
      ResponseTerms terms, ResponseCoefficient c, double sd, String origin) {
    double[] weights = new double[terms.count()];
    weights[terms.indexOf(c)] = 1;
    return new CoefficientPrior(weights, 0, sd, origin + c.inWords(), c.unit(), Optional.empty());
  }

  /** The row of D: its prior relative to the D of the fit. */
  CoefficientPrior doublingRow(double atK) {
    double[] weights = new double[terms.count()];
    weights[weights.length - 1] = 1;
    String name =
        doublingFrom
            .map(f -> f.kind().text() + ": " + ResponseCoefficient.D.inWords())
            .orElse("assumed: " + ResponseCoefficient.D.inWords());
    return new CoefficientPrior(weights, doublingK - atK, doublingSdK, name, "K", doublingFrom);
  }

  /** Coefficients with a covariance, converted to independent rows. */
  private static List<CoefficientPrior> foreign(
      ResponseTerms terms, ResponseCoefficientSet taken, BorrowedCoefficients from) {
    int n = taken.of().size();
    if (n == 0) {
      return List.of();
    }
    double[] sd = new double[n];
    double[] scaled = new double[n];
    double[][] covariance = taken.covariance();
    for (int i = 0; i < n; i++) {
      scaled[i] = Math.pow(terms.scaleV() / taken.scaleV(), order(taken.of().get(i)));
      sd[i] = Math.sqrt(covariance[i][i]);
    }
    double[][] correlation = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        correlation[i][j] = i == j ? 1 : covariance[i][j] / (sd[i] * sd[j]);
      }
    }
    EigenDecomposition eigen = new EigenDecomposition(new Array2DRowRealMatrix(correlation));
    List<CoefficientPrior> rows = new ArrayList<>();
    for (int k = 0; k < n; k++) {
      double[] weights = new double[terms.count()];
      double mean = 0;
      for (int i = 0; i < n; i++) {
        double part = eigen.getEigenvector(k).getEntry(i) / sd[i];
        weights[terms.indexOf(taken.of().get(i))] = part / scaled[i];
        mean += part * taken.values()[i];
      }
      double own = Math.sqrt(Math.max(eigen.getRealEigenvalue(k), LEAST_SHARE));
      String name = from.kind().text() + ": " + largest(taken, weights, terms);
      rows.add(new CoefficientPrior(weights, mean, own, name, "1", Optional.of(from)));
    }
    return rows;
  }

  /** Power of V_s that scales a coefficient. */
  private static int order(ResponseCoefficient c) {
    int[] kj = BENDS.get(c);
    if (kj != null) {
      return kj[0];
    }
    return c == ResponseCoefficient.L_1 ? 1 : c == ResponseCoefficient.L_2 ? 2 : 0;
  }

  /** The main coefficient of a joint row. */
  private static String largest(
      ResponseCoefficientSet taken, double[] weights, ResponseTerms terms) {
    ResponseCoefficient most = taken.of().get(0);
    double part = 0;
    for (int i = 0; i < taken.of().size(); i++) {
      double u = Math.sqrt(taken.covariance()[i][i]);
      double share = Math.abs(weights[terms.indexOf(taken.of().get(i))]) * u;
      if (share > part) {
        part = share;
        most = taken.of().get(i);
      }
    }
    return most.inWords();
  }
}
