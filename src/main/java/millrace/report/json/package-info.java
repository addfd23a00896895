// SPDX-License-Identifier: Apache-2.0
/**
 * What was found as documents for programs. Read {@link millrace.report.json.AnalysisJson} first.
 * Keys are a contract: each is always there, null where it is empty. Stateless.
 */
@NullMarked
package millrace.report.json;

import org.jspecify.annotations.NullMarked;
