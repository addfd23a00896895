// SPDX-License-Identifier: Apache-2.0
/**
 * Findings as JSON documents for programs. Read {@link millrace.report.json.AnalysisJson} first.
 * Keys are a contract: each is always present, null if empty. Stateless.
 */
@NullMarked
package millrace.report.json;

import org.jspecify.annotations.NullMarked;
