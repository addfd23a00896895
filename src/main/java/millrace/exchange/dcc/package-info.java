// SPDX-License-Identifier: Apache-2.0
/**
 * Digital calibration certificates (DCC 3, quantities by D-SI): reads those of instruments, writes
 * those of units, signs and checks. Start at {@link millrace.exchange.dcc.DigitalCertificate}.
 * Knows no bench file. Everything here is stateless or immutable.
 */
@NullMarked
package millrace.exchange.dcc;

import org.jspecify.annotations.NullMarked;
