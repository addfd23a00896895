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
 */
public record RunFilter(
    Optional<String> unit,
    Optional<String> batch,
    Optional<String> tag,
    Optional<String> instrument,
    Optional<Instant> since) {

  /** Every run. */
  public static final RunFilter ALL =
      new RunFilter(
          Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
}
