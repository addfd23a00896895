// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;

/**
 * The measurement model of a result: y = f(x_1, x_2, ...) with the estimates (JCGM 100:2008, 4.1.1
 * and 4.1.4), printed above the table of a budget (annex H.1).
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param equation the equation in symbols, each of which is an input, an index or a number
 * @param inputs the input quantities with their estimates, in the order of the equation
 */
public record MeasurementModel(String equation, List<Input> inputs) {

  /** Copies the list. */
  public MeasurementModel {
    inputs = List.copyOf(inputs);
  }

  /**
   * Input quantities of one kind.
   *
   * @param symbol as in the equation, with an index if there are several
   * @param unit of the estimates; 1 for a number
   * @param estimates the best values, one for each index, all finite
   */
  public record Input(String symbol, String unit, List<Double> estimates) {
    /** Copies the list and checks that it holds numbers. */
    public Input {
      estimates = List.copyOf(estimates);
      if (estimates.isEmpty() || !estimates.stream().allMatch(Double::isFinite)) {
        throw new IllegalArgumentException(
            "estimates of %s are %s; expected one finite number or more"
                .formatted(symbol, estimates));
      }
    }
  }

  /**
   * An equation to which inputs are added.
   *
   * @param equation in symbols
   * @return a model without inputs
   */
  public static MeasurementModel of(String equation) {
    return new MeasurementModel(equation, List.of());
  }

  /**
   * The same with one more kind of input.
   *
   * @param symbol as in the equation
   * @param unit of the estimates
   * @param estimates the best values, at least one
   * @return the model
   */
  public MeasurementModel with(String symbol, String unit, double... estimates) {
    return with(symbol, unit, Arrays.stream(estimates).boxed().toList());
  }

  /**
   * The same with one more kind of input.
   *
   * @param symbol as in the equation
   * @param unit of the estimates
   * @param estimates the best values; none: the input is left out
   * @return the model
   */
  public MeasurementModel with(String symbol, String unit, Collection<Double> estimates) {
    if (estimates.isEmpty()) {
      return this;
    }
    List<Input> more = new ArrayList<>(inputs);
    more.add(new Input(symbol, unit, List.copyOf(estimates)));
    return new MeasurementModel(equation, more);
  }
}
