// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.time.Duration;
import millrace.sim.fault.SimFault;

/**
 * A fault that struck.
 *
 * @param fault which
 * @param elapsed when, on the bench's clock
 */
public record StruckSimFault(SimFault fault, Duration elapsed) {}
