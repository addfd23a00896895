// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

/**
 * How units are connected; a changed fixture or cable set is a new set-up with a new number.
 *
 * @param fixture the fixture, by name or number
 * @param cables the cable set, by name or number
 * @param remark whatever else makes it different
 */
public record FixtureSetUp(String fixture, String cables, String remark) {}
