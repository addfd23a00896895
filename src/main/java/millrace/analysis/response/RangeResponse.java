package millrace.analysis.response;

import java.util.List;

/**
 * What one range does at any condition (measurement.md 11.3). Differences of two predictions, of
 * this or another range, carry their joint covariance, since estimates carry every error by name.
 * Immutable and thread-safe.
 */
public final class RangeResponse {

  /**
   * The range.
   *
   * @return its name
   */
  public String range() {
    throw new UnsupportedOperationException();
  }

  /**
   * Its nominal current.
   *
   * @return I_N, A
   */
  public double nominalA() {
    throw new UnsupportedOperationException();
  }

  /**
   * The prediction at a condition inside the domain (measurement.md 11.3, 11.4).
   *
   * @param condition where
   * @return the value, or what would have to be measured
   */
  public Prediction at(Condition condition) {
    throw new UnsupportedOperationException();
  }

  /**
   * The prediction at a condition, also outside of what was measured: its uncertainty carries the
   * model's freedom, and it is marked.
   *
   * @param condition where
   * @return the value; missing only where the model has no term that tells it
   */
  public Prediction extrapolated(Condition condition) {
    throw new UnsupportedOperationException();
  }

  /**
   * Value and standard uncertainty alone, in the middle of the run at the usual supply: quick, for
   * searches. Says nothing of the domain.
   *
   * @param temperatureDegC degC
   * @param voltageV in the direction of the current, V
   * @return error and its u, ppm of I_N
   */
  public double[] errorAndUPpm(double temperatureDegC, double voltageV) {
    throw new UnsupportedOperationException();
  }

  /**
   * Where predictions hold.
   *
   * @return the domain
   */
  public Domain domain() {
    throw new UnsupportedOperationException();
  }

  /**
   * What another run may take from this one (measurement.md 11.6).
   *
   * @return values and covariance
   */
  public Coefficients coefficients() {
    throw new UnsupportedOperationException();
  }

  /**
   * What a reader must know.
   *
   * @return whole sentences
   */
  public List<String> notes() {
    throw new UnsupportedOperationException();
  }
}
