// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;

/** The prediction of a response at a condition: a value, or the measurements that are missing. */
public sealed interface ResponsePrediction
    permits ResponsePrediction.Value, ResponsePrediction.Missing {

  /** The basis of a value (methods.md 11.3). */
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
   * The reason that there is no value.
   *
   * @return the measurements that are missing, in words; empty if there is a value
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
   * @param basis its basis
   * @param text the basis in words, with the missing measurements if it is assumed
   * @param leansOn sources of coefficients that this run did not measure, such as {@code type run
   *     12}; empty if this run measured them
   * @param extrapolated true if it lies outside the measured conditions
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
   * @param reason the reason, in words
   * @param wanting the measurements that are missing, such as {@code measure at 50 degC}
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
