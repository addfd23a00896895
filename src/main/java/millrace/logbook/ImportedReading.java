// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.ReadingState;

/**
 * A reading taken elsewhere: its times may be unknown, its uncertainty is stated with it.
 *
 * @param signal what it measures
 * @param state what kind of entry it came from
 * @param value in the base unit of the signal; present exactly for a number
 * @param raw the entry as it stood in the file
 * @param takenAt wall clock, if known
 * @param elapsed time from the start, if known; may be negative where times run backwards
 * @param stated what is stated of its error
 * @param extra what else stood in the row, by column
 */
public record ImportedReading(
    MeasuredSignal signal,
    ReadingState state,
    OptionalDouble value,
    String raw,
    Optional<Instant> takenAt,
    Optional<Duration> elapsed,
    StatedUncertainty stated,
    Map<String, String> extra) {}
