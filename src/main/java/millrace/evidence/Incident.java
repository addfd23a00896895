// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * Anything worth a line that is not a reading.
 *
 * @param kind what it is about
 * @param pointKey the point during which it happened; empty outside points
 * @param text one or more whole sentences
 * @param at wall-clock stamp
 * @param elapsed elapsed time of the run
 */
public record Incident(
    IncidentKind kind, Optional<String> pointKey, String text, Instant at, Duration elapsed) {}
