// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

/**
 * Evidence of readings for each law: the residual sum of squares and the logarithm of the
 * determinant under it, and how many degrees of freedom they rest on, from which ln L = -(ln det +
 * nu ln RSS)/2, the scale free (restricted likelihood: Patterson and Thompson, Biometrika 58 (1971)
 * 545, from memory; methods.md 2.1, 6.3d). Those of independent series add (6.3e).
 *
 * @param squares RSS of each law
 * @param lnDeterminant ln det of each law
 * @param degrees degrees of freedom before the scale is taken off
 */
@SuppressWarnings("ArrayRecordComponent") // read inside one fit, never compared or kept
record LawEvidence(double[] squares, double[] lnDeterminant, int degrees) {

  /** No evidence. */
  static LawEvidence nothing(int laws) {
    return new LawEvidence(new double[laws], new double[laws], 0);
  }

  LawEvidence and(LawEvidence other) {
    double[] both = squares.clone();
    double[] determinants = lnDeterminant.clone();
    for (int i = 0; i < both.length; i++) {
      both[i] += other.squares[i];
      determinants[i] += other.lnDeterminant[i];
    }
    return new LawEvidence(both, determinants, degrees + other.degrees);
  }

  /**
   * Of a series in its cosine basis, level and slope free (methods.md 6.3d).
   *
   * @param laws the laws
   * @param spectra v_k of each kernel
   * @param y coefficients of the readings, k = 1..n-1
   * @param t those of their times
   */
  static LawEvidence ofSeries(NoiseLaws laws, double[][] spectra, double[] y, double[] t) {
    double[] squares = new double[laws.size()];
    double[] determinants = new double[laws.size()];
    for (int i = 0; i < squares.length; i++) {
      double[] v = laws.spectrum(i, spectra);
      double yy = 0;
      double yt = 0;
      double tt = 0;
      double product = 1;
      for (int k = 0; k < v.length; k++) {
        double w = 1 / v[k];
        yy += y[k] * y[k] * w;
        yt += y[k] * t[k] * w;
        tt += t[k] * t[k] * w;
        product *= v[k];
        if (product > 1e100 || product < 1e-100) {
          determinants[i] += Math.log(product);
          product = 1;
        }
      }
      squares[i] = Math.max(0, yy - yt * yt / tt);
      determinants[i] += Math.log(product) + Math.log(tt);
    }
    int readings = y.length + 1;
    return new LawEvidence(squares, determinants, readings - 2);
  }
}
