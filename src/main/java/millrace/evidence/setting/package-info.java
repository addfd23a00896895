// SPDX-License-Identifier: Apache-2.0
/**
 * The settings of the meters during readings, as the meters reported them. Read {@link
 * millrace.evidence.setting.PointSettings} first. Knows only quantity. Everything is immutable and
 * thread-safe.
 */
@NullMarked
package millrace.evidence.setting;

import org.jspecify.annotations.NullMarked;
