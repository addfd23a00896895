// SPDX-License-Identifier: Apache-2.0
/**
 * Commands that compute, judge and predict. Read {@link millrace.cli.result.AnalyzeCommand} first.
 */
@NullMarked
package millrace.cli.result;

import org.jspecify.annotations.NullMarked;
