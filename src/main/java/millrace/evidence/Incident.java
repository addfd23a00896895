// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * An event of a run other than a reading.
 *
 * @param kind the kind of event
 * @param pointKey the point during which it happened; empty outside points
 * @param text one or more whole sentences
 * @param at wall-clock stamp
 * @param elapsed elapsed time of the run
 */
public record Incident(
    IncidentKind kind, Optional<String> pointKey, String text, Instant at, Duration elapsed) {}
