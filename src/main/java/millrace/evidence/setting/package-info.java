// SPDX-License-Identifier: Apache-2.0
/**
 * How the meters were set where readings were taken, as they said themselves. Read {@link
 * millrace.evidence.setting.PointSettings} first. Knows only quantity. Everything is immutable and
 * thread-safe.
 */
@NullMarked
package millrace.evidence.setting;

import org.jspecify.annotations.NullMarked;
