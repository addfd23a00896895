// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.time.Duration;
import millrace.sim.fault.SimFault;

/**
 * A fault that occurred.
 *
 * @param fault the fault
 * @param elapsed the time on the bench's clock
 */
public record StruckSimFault(SimFault fault, Duration elapsed) {}
