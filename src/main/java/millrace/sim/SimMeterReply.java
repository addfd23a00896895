// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.time.Duration;
import java.util.Optional;

/**
 * A reply of a meter before any fault, with its conditions.
 *
 * @param elapsed the time on the bench's clock
 * @param instrument the meter
 * @param reply the reply
 * @param range the range selected; empty if none
 * @param loadOhm the true load, ohm
 * @param position the switch position
 * @param unitDegC true temperature of the unit, degC
 */
public record SimMeterReply(
    Duration elapsed,
    String instrument,
    String reply,
    Optional<String> range,
    double loadOhm,
    String position,
    double unitDegC) {}
