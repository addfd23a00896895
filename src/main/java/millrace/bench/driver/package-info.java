// SPDX-License-Identifier: Apache-2.0
/**
 * Driver files and the one class that speaks the text protocols they describe. Read {@link
 * millrace.bench.driver.DriverFile} first. Knows roles, link, document and the leaves.
 */
@NullMarked
package millrace.bench.driver;

import org.jspecify.annotations.NullMarked;
