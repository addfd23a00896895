// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

/**
 * An input file that a run was made from; its content is kept whole.
 *
 * @param role what it was for the run
 * @param name its name as the user gave it
 * @param sha256 SHA-256 of the content, 64 lower-case hexadecimal digits
 * @param bytes its length
 */
public record RunInputFile(FileRole role, String name, String sha256, long bytes) {}
