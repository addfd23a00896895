// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.quantity.EnumWord;

/**
 * The outcome of a computation: a value with its uncertainty, a bound, or the reason for neither.
 */
public sealed interface ComputationOutcome
    permits ComputationOutcome.Value, ComputationOutcome.Bound, ComputationOutcome.Missing {

  /**
   * The number of data used.
   *
   * @return 0 or more
   */
  int n();

  /**
   * Answers once per kind.
   *
   * @param visitor what to do for each kind
   * @param <T> what the visitor returns
   * @return what it returned
   */
  <T> T accept(Visitor<T> visitor);

  /**
   * One answer per kind of outcome.
   *
   * @param <T> the type of the answer
   */
  interface Visitor<T> {
    /**
     * For a value.
     *
     * @param value the value
     * @return the answer
     */
    T value(Value value);

    /**
     * For a bound.
     *
     * @param bound the bound
     * @return the answer
     */
    T bound(Bound bound);

    /**
     * For what could not be computed.
     *
     * @param missing the reason
     * @return the answer
     */
    T missing(Missing missing);
  }

  /**
   * A value with its uncertainty (JCGM 100:2008).
   *
   * @param value the best estimate, finite
   * @param uncertainty the uncertainty; empty only if the source states none (imported readings),
   *     as a note then says
   * @param n number of data used
   */
  record Value(double value, Optional<Uncertainty> uncertainty, int n)
      implements ComputationOutcome {

    /** Checks that the value is finite. */
    public Value {
      if (!Double.isFinite(value)) {
        throw new IllegalArgumentException("a value is finite, found " + value);
      }
    }

    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.value(this);
    }
  }

  /**
   * A one-sided statement: the quantity lies above or below this.
   *
   * @param side which side it lies on
   * @param value the bound, finite
   * @param n number of data used
   */
  record Bound(Side side, double value, int n) implements ComputationOutcome {

    /** Checks that the bound is finite. */
    public Bound {
      if (!Double.isFinite(value)) {
        throw new IllegalArgumentException("a bound is finite, found " + value);
      }
    }

    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.bound(this);
    }
  }

  /** The side of a bound that the quantity lies on. */
  enum Side implements EnumWord {
    /** It is larger than the bound. */
    ABOVE("above"),
    /** It is smaller than the bound. */
    BELOW("below");

    private final String text;

    Side(String text) {
      this.text = text;
    }

    @Override
    public String text() {
      return text;
    }
  }

  /**
   * Not computed.
   *
   * @param reason whole words that say what is missing; not blank
   * @param n how many data there were
   */
  record Missing(String reason, int n) implements ComputationOutcome {

    /** Checks that a reason is given. */
    public Missing {
      if (reason.isBlank()) {
        throw new IllegalArgumentException("what is missing must be said");
      }
    }

    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.missing(this);
    }
  }

  /**
   * The uncertainty of a value.
   *
   * @param standard u, in the unit of the result, 0 or more
   * @param expanded U at the stated coverage; for an asymmetric interval the larger half
   * @param lower lower end of the coverage interval
   * @param upper upper end of the coverage interval
   * @param coverage probability of the interval, for example 0.9545
   * @param coverageFactor k = U/u
   * @param degreesOfFreedom effective degrees of freedom; empty means infinite
   */
  record Uncertainty(
      double standard,
      double expanded,
      double lower,
      double upper,
      double coverage,
      double coverageFactor,
      OptionalDouble degreesOfFreedom) {

    /** Checks sizes and order. */
    public Uncertainty {
      if (!(standard >= 0) || !(expanded >= 0) || Double.isInfinite(standard + expanded)) {
        throw new IllegalArgumentException(
            "u = %s and U = %s must be finite and 0 or more".formatted(standard, expanded));
      }
      if (!(lower <= upper)) {
        throw new IllegalArgumentException(
            "interval from %s to %s is upside down".formatted(lower, upper));
      }
    }
  }
}
