// SPDX-License-Identifier: Apache-2.0
/**
 * Documents that a customer gets with a unit: the certificate of one run and one judgement, and the
 * test sheet. Read {@link millrace.report.certificate.Certificate} first. Judges nothing.
 * Stateless; one thread at a time per run.
 */
@NullMarked
package millrace.report.certificate;

import org.jspecify.annotations.NullMarked;
