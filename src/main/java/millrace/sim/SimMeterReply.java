// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.time.Duration;
import java.util.Optional;

/**
 * What a meter has measured, before anything spoilt the reply: with which conditions it belongs.
 *
 * @param elapsed when, on the bench's clock
 * @param instrument which meter
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
