// SPDX-License-Identifier: Apache-2.0
/**
 * What goes to a customer with a unit: the certificate of one run and one judging, and the test
 * sheet. Read {@link millrace.report.certificate.Certificate} first. Judges nothing. Stateless; one
 * thread at a time per run.
 */
@NullMarked
package millrace.report.certificate;

import org.jspecify.annotations.NullMarked;
