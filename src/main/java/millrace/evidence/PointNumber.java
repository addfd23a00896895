// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The number by which people call a point: its place in the plan, the same in preview, run, report
 * and notes. What one place in the plan needed besides, such as the steps of a search, a zero of
 * its own or another try after a stop, is numbered within it: {@code 37.1}, {@code 37.2}.
 *
 * @param place place in the plan, from 1; of imported readings the place in their file
 * @param part 0 for what was planned itself, from 1 for what came with it; {@link #NOT_YET} for a
 *     part that the logbook is to number
 */
public record PointNumber(int place, int part) {
  /** The part of a point that has not been written yet. */
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
   * What was planned itself.
   *
   * @param place its place, from 1
   * @return its number
   */
  public static PointNumber of(int place) {
    return new PointNumber(place, 0);
  }

  /**
   * What comes with a place of the plan, to be numbered when it is written.
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
   * The number where nothing else was taken at its place.
   *
   * @return the same for what was planned itself, else the first part
   */
  public PointNumber first() {
    return part == 0 ? this : new PointNumber(place, 1);
  }
}
