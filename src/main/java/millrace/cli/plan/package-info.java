// SPDX-License-Identifier: Apache-2.0
/** Commands that plan measurements. Read {@link millrace.cli.plan.PlanCommand} first. */
@NullMarked
package millrace.cli.plan;

import org.jspecify.annotations.NullMarked;
