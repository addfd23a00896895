// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.util.List;
import millrace.evidence.Point;
import millrace.evidence.PointNumber;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.RunReader;

/**
 * A point as a person names it: {@code 37}, or {@code 37.2} for a point taken with it. Stateless.
 */
public final class PointOption {
  private static final int LISTED = 12;

  private PointOption() {}

  /**
   * The one point given by {@code --point}.
   *
   * @param reader the run
   * @param number the text as typed
   * @return the point
   * @throws BadInputException if the run has no point of that number, or if that place of the plan
   *     has several points of equal standing
   */
  public static Point of(RunReader reader, String number) {
    List<Point> points = all(reader, number);
    Point first = points.get(0);
    if (points.size() > 1 && first.number().part() > 0) {
      List<String> parts = points.stream().map(p -> p.number().text()).toList();
      throw refused(
          "point %s of run %s is %s points".formatted(number, reader.summary().id(), parts.size()),
          "one of them: " + shortened(parts),
          "See 'millrace show %s --point %s'.".formatted(reader.summary().id(), number));
    }
    return first;
  }

  /**
   * All points given by {@code --point}: a point and those taken with it.
   *
   * @param reader the run
   * @param number the text as typed
   * @return at least one point; the planned point before those taken with it
   * @throws BadInputException if the run has none of that number
   */
  public static List<Point> all(RunReader reader, String number) {
    long run = reader.summary().id();
    PointNumber wanted = checked(number);
    List<Point> found =
        reader.pointsAt(wanted.place()).stream()
            .filter(p -> wanted.part() == 0 || p.number().equals(wanted))
            .toList();
    if (found.isEmpty()) {
      throw refused(
          "run %s has no point %s".formatted(run, number),
          "a number such as 1 or 1.2, up to " + reader.lastPlace(),
          "See 'millrace show %s --points'.".formatted(run));
    }
    return found;
  }

  /**
   * Refuses text that is not a number, before anything is opened.
   *
   * @param number the text as typed
   * @return the number
   * @throws BadInputException if it is not a number
   */
  public static PointNumber checked(String number) {
    return PointNumber.parse(number)
        .orElseThrow(
            () ->
                refused(
                    "'%s' is no number of a point".formatted(number),
                    "a number such as 7 or 7.2",
                    "'millrace show RUN --points' lists them."));
  }

  private static String shortened(List<String> parts) {
    return parts.size() <= LISTED
        ? String.join(", ", parts)
        : String.join(", ", parts.subList(0, LISTED)) + " and so on";
  }

  private static BadInputException refused(String found, String expected, String hint) {
    return new BadInputException(new InputFault(FilePlace.of("--point"), found, expected, hint));
  }
}
