// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;
import java.util.Optional;

/**
 * Which runs a list shows: those that meet every condition given.
 *
 * @param unit serial number of the unit
 * @param batch the batch
 * @param tag the tag
 * @param instrument serial number or bench name of an instrument that the run used
 * @param since begun at this instant or later
 * @param before begun before this instant
 * @param text what its unit, title, operator, batch, tag, its own remark or one written later
 *     holds; case does not matter
 */
public record RunFilter(
    Optional<String> unit,
    Optional<String> batch,
    Optional<String> tag,
    Optional<String> instrument,
    Optional<Instant> since,
    Optional<Instant> before,
    Optional<String> text) {

  /** Every run. */
  public static final RunFilter ALL =
      new RunFilter(
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty());

  /**
   * The same for one unit, or for any.
   *
   * @param serial serial number of the unit; empty for any
   * @return the filter
   */
  public RunFilter ofUnit(Optional<String> serial) {
    return new RunFilter(serial, batch, tag, instrument, since, before, text);
  }

  /**
   * The same for one batch, or for any.
   *
   * @param name the batch; empty for any
   * @return the filter
   */
  public RunFilter ofBatch(Optional<String> name) {
    return new RunFilter(unit, name, tag, instrument, since, before, text);
  }

  /**
   * The same for one tag, or for any.
   *
   * @param name the tag; empty for any
   * @return the filter
   */
  public RunFilter ofTag(Optional<String> name) {
    return new RunFilter(unit, batch, name, instrument, since, before, text);
  }

  /**
   * The same for one instrument, or for any.
   *
   * @param name its serial number or its name in the bench file; empty for any
   * @return the filter
   */
  public RunFilter with(Optional<String> name) {
    return new RunFilter(unit, batch, tag, name, since, before, text);
  }

  /**
   * The same for a span of time.
   *
   * @param first the first instant that belongs to it; empty for any
   * @param end the first instant after it; empty for none
   * @return the filter
   */
  public RunFilter within(Optional<Instant> first, Optional<Instant> end) {
    return new RunFilter(unit, batch, tag, instrument, first, end, text);
  }

  /**
   * The same for what a run's own words hold, or for any.
   *
   * @param word a part of them; empty for any
   * @return the filter
   */
  public RunFilter holding(Optional<String> word) {
    return new RunFilter(unit, batch, tag, instrument, since, before, word);
  }
}
