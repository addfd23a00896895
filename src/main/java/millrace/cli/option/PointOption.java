// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import millrace.evidence.Point;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.Place;
import millrace.logbook.RunReader;

/** A point as a person names it. */
public final class PointOption {
  private PointOption() {}

  /**
   * The point of a run that {@code --point} names.
   *
   * @param reader the run
   * @param number what was typed
   * @return the point
   * @throws BadInputException if the run has none of that number
   */
  public static Point of(RunReader reader, long number) {
    return reader
        .point(number)
        .orElseThrow(
            () ->
                new BadInputException(
                    new Fault(
                        Place.of("--point"),
                        "run %s has no point %s".formatted(reader.summary().id(), number),
                        "a number from 1 to " + reader.pointCount(),
                        "See 'millrace show %s'.".formatted(reader.summary().id()))));
  }
}
