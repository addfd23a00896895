// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;

/** What a response says of a condition: a value, or what would have to be measured. */
public sealed interface ResponsePrediction
    permits ResponsePrediction.Value, ResponsePrediction.Missing {

  /** What a value rests on (methods.md 11.3). */
  enum Basis {
    /** Within 0.5 K of a visit. */
    MEASURED,
    /** Between visits. */
    PREDICTED,
    /** Most of its uncertainty comes from rows that were assumed, not measured. */
    BY_ASSUMPTION
  }

  /**
   * The value, if there is one.
   *
   * @return the value; empty where it is missing
   */
  default Optional<Value> value() {
    return Optional.empty();
  }

  /**
   * Why there is none.
   *
   * @return what would have to be measured, in words; empty where there is a value
   */
  default Optional<String> missing() {
    return Optional.empty();
  }

  /**
   * A value.
   *
   * @param currentA the current with every error by name, A
   * @param errorPpm I/I_N - 1, ppm of I_N
   * @param voltageV the terminal voltage it holds at, in the direction of the current, V
   * @param basis what it rests on
   * @param text the basis in words, with what would have to be measured where it is assumed
   * @param leansOn where coefficients come from that this run did not measure, such as {@code type
   *     run 12}; empty where this run measured them
   * @param extrapolated true if it lies outside what was measured
   */
  record Value(
      Estimate currentA,
      Estimate errorPpm,
      double voltageV,
      Basis basis,
      String text,
      List<BorrowedCoefficients> leansOn,
      boolean extrapolated)
      implements ResponsePrediction {
    /** Copies the list. */
    public Value {
      leansOn = List.copyOf(leansOn);
    }

    @Override
    public Optional<Value> value() {
      return Optional.of(this);
    }
  }

  /**
   * No value.
   *
   * @param reason why, in whole words
   * @param wanting what would have to be measured, such as {@code measure at 50 degC}
   */
  record Missing(String reason, List<String> wanting) implements ResponsePrediction {
    /** Copies the list. */
    public Missing {
      wanting = List.copyOf(wanting);
    }

    @Override
    public Optional<String> missing() {
      return Optional.of(reason);
    }
  }
}
