// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.time.Duration;

/**
 * A line that an instrument has received, whatever the reply.
 *
 * @param elapsed the time on the bench's clock
 * @param instrument the instrument
 * @param line without its end
 */
public record SimReceivedLine(Duration elapsed, String instrument, String line) {}
