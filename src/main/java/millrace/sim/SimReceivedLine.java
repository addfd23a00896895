// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.time.Duration;

/**
 * A line that an instrument has received, whatever came of it.
 *
 * @param elapsed when, on the bench's clock
 * @param instrument which one
 * @param line without its end
 */
public record SimReceivedLine(Duration elapsed, String instrument, String line) {}
