// SPDX-License-Identifier: Apache-2.0
/**
 * The parts of a datasheet as a circuit design for computation. Read {@link
 * millrace.assessment.design.DesignFromDatasheet} first. Knows no readings. Stateless.
 */
@NullMarked
package millrace.assessment.design;

import org.jspecify.annotations.NullMarked;
