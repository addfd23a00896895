// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.design;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.DesignDeviation;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.response.ResponseCoefficient;
import millrace.analysis.response.ResponseCoefficientSet;
import millrace.analysis.response.ResponseValidityDomain;
import millrace.datasheet.Datasheet;

/**
 * Temperature coefficients that were not measured, taken from the design (methods.md 11.6): those
 * of the nominal circuit, each anywhere within the worst case of the parts' tolerances, all values
 * equally likely (JCGM 100:2008, 4.3.7).
 */
public final class DesignTempcoCoefficients {
  /**
   * Temperature step for the coefficients, K: the step over which the response's leakage doubles.
   */
  private static final double STEP_K = 10;

  /** Least uncertainty of a coefficient, 1/K and 1/V. */
  private static final double LEAST_U = 1e-12;

  private static final double AT_V = 1;

  private static final OnceADatasheet<Map<String, ResponseCoefficientSet>> SETS =
      new OnceADatasheet<>(DesignTempcoCoefficients::sets);

  private static final OnceADatasheet<Map<String, Double>> CURVATURES =
      new OnceADatasheet<>(DesignTempcoCoefficients::curvatures);

  private final RangeCircuitModel model;
  private final double referenceDegC;
  private final double nominalA;
  private final double[] halfWidths;

  private DesignTempcoCoefficients(
      DesignCircuit circuit, RangeCircuitModel model, double nominalA) {
    this.model = model;
    this.referenceDegC = circuit.referenceDegC();
    this.nominalA = nominalA;
    this.halfWidths =
        circuit.deviations().stream().mapToDouble(DesignDeviation::halfWidth).toArray();
  }

  /** The coefficients of a range; empty if the datasheet does not state its parts. */
  public static Optional<ResponseCoefficientSet> of(Datasheet sheet, String range) {
    return Optional.ofNullable(SETS.of(sheet).get(range));
  }

  /** Standard deviations of b_2 from the parts, by range, 1/K^2. */
  public static Map<String, Double> curvaturesPerK2(Datasheet sheet) {
    return CURVATURES.of(sheet);
  }

  private static Map<String, ResponseCoefficientSet> sets(Datasheet sheet) {
    Map<String, ResponseCoefficientSet> sets = new HashMap<>();
    DesignFromDatasheet.of(sheet)
        .ifPresent(c -> c.ranges().forEach(m -> sets.put(m.design().name(), set(sheet, c, m))));
    return Map.copyOf(sets);
  }

  private static ResponseCoefficientSet set(
      Datasheet sheet, DesignCircuit circuit, RangeCircuitModel model) {
    double nominal =
        sheet.range(model.design().name()).map(r -> Math.abs(r.nominalA())).orElse(1.0);
    return new DesignTempcoCoefficients(circuit, model, nominal).coefficients();
  }

  private static Map<String, Double> curvatures(Datasheet sheet) {
    Map<String, Double> stated = new HashMap<>();
    DesignFromDatasheet.of(sheet).stream()
        .flatMap(c -> c.ranges().stream())
        .map(RangeCircuitModel::design)
        .forEach(r -> r.statedCurvaturePerK2().ifPresent(b -> stated.put(r.name(), b)));
    return Map.copyOf(stated);
  }

  private ResponseCoefficientSet coefficients() {
    double[] nominal = new double[halfWidths.length];
    double uSlope = worstCase(this::slope, nominal) / Math.sqrt(3);
    double uLeakage = worstCase(this::leakage, nominal) / Math.sqrt(3);
    return ResponseCoefficientSet.independent(
        List.of(ResponseCoefficient.A, ResponseCoefficient.G_L),
        new double[] {slope(nominal), leakage(nominal)},
        new double[] {Math.max(uSlope, LEAST_U), Math.max(uLeakage, LEAST_U)},
        AT_V,
        ResponseValidityDomain.everywhere());
  }

  /** The sum over all deviations of the largest effect of each alone. */
  private double worstCase(ToDoubleFunction<double[]> of, double[] nominal) {
    double middle = of.applyAsDouble(nominal);
    double sum = 0;
    for (int i = 0; i < halfWidths.length; i++) {
      double[] x = nominal.clone();
      x[i] = halfWidths[i];
      double up = Math.abs(of.applyAsDouble(x) - middle);
      x[i] = -halfWidths[i];
      sum += Math.max(up, Math.abs(of.applyAsDouble(x) - middle));
    }
    return sum;
  }

  /** a, 1/K. */
  private double slope(double[] x) {
    return (error(0, STEP_K / 2, x) - error(0, -STEP_K / 2, x)) / STEP_K;
  }

  /** G_L, 1/V: by how much the conductance over I_N grows while the leakage doubles. */
  private double leakage(double[] x) {
    return perV(0, x) - perV(STEP_K, x);
  }

  private double perV(double awayK, double[] x) {
    return (error(AT_V, awayK, x) - error(0, awayK, x)) / AT_V;
  }

  private double error(double terminalV, double awayK, double[] x) {
    return model.currentA(terminalV, referenceDegC + awayK, x) / nominalA - 1;
  }
}
