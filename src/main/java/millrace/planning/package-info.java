// SPDX-License-Identifier: Apache-2.0
/**
 * What a run will be able to say before it is measured (methods.md 12). Knows assessments and the
 * files that a run is made from; runs nothing itself.
 */
@NullMarked
package millrace.planning;

import org.jspecify.annotations.NullMarked;
