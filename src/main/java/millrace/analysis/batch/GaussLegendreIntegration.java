// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import org.apache.commons.math3.analysis.integration.gauss.GaussIntegrator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;

/** Integration by Gauss and Legendre over panels of equal width, for smooth functions. */
final class GaussLegendreIntegration {
  private static final int POINTS = 10;
  private static final GaussIntegrator RULE = new GaussIntegratorFactory().legendre(POINTS, -1, 1);

  private GaussLegendreIntegration() {}

  static double[] nodes(double from, double to, int panels) {
    double[] nodes = new double[panels * POINTS];
    double half = (to - from) / panels / 2;
    for (int p = 0; p < panels; p++) {
      for (int i = 0; i < POINTS; i++) {
        nodes[p * POINTS + i] = from + half * (2 * p + 1 + RULE.getPoint(i));
      }
    }
    return nodes;
  }

  static double[] weights(double from, double to, int panels) {
    double[] weights = new double[panels * POINTS];
    double half = (to - from) / panels / 2;
    for (int i = 0; i < weights.length; i++) {
      weights[i] = half * RULE.getWeight(i % POINTS);
    }
    return weights;
  }
}
