// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The number of a point for people: its place in the plan, the same in preview, run, report and
 * notes. Further points of one place in the plan, such as the steps of a search, its own zero or
 * another attempt after a stop, have a part number: {@code 37.1}, {@code 37.2}.
 *
 * @param place place in the plan, from 1; of imported readings the place in their file
 * @param part 0 for the planned point, from 1 for its further points; {@link #NOT_YET} for a part
 *     that the logbook numbers
 */
public record PointNumber(int place, int part) {
  /** The part number of a point not yet written. */
  public static final int NOT_YET = -1;

  private static final Pattern TEXT = Pattern.compile("([1-9][0-9]{0,8})(?:\\.([1-9][0-9]{0,8}))?");

  /**
   * Checks both.
   *
   * @throws IllegalArgumentException if one is out of its range
   */
  public PointNumber {
    if (place < 1 || part < NOT_YET) {
      throw new IllegalArgumentException("no point has the number " + place + ", part " + part);
    }
  }

  /**
   * A planned point.
   *
   * @param place its place, from 1
   * @return its number
   */
  public static PointNumber of(int place) {
    return new PointNumber(place, 0);
  }

  /**
   * A further point at a place of the plan, numbered by the logbook when it is written.
   *
   * @param place the place, from 1
   * @return a number without its part
   */
  public static PointNumber within(int place) {
    return new PointNumber(place, NOT_YET);
  }

  /**
   * Reads a number as people write it.
   *
   * @param text such as {@code 37} or {@code 37.2}
   * @return the number; empty if it is none
   */
  public static Optional<PointNumber> parse(String text) {
    Matcher words = TEXT.matcher(text.strip());
    if (!words.matches()) {
      return Optional.empty();
    }
    int part = words.group(2) == null ? 0 : Integer.parseInt(words.group(2));
    return Optional.of(new PointNumber(Integer.parseInt(words.group(1)), part));
  }

  /**
   * The number as people write it.
   *
   * @return such as {@code 37} or {@code 37.2}
   */
  public String text() {
    return part == 0 ? String.valueOf(place) : place + "." + (part == NOT_YET ? "?" : part);
  }

  /**
   * The number if nothing else was measured at its place.
   *
   * @return the same for a planned point, else the first part
   */
  public PointNumber first() {
    return part == 0 ? this : new PointNumber(place, 1);
  }
}
