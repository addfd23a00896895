// SPDX-License-Identifier: Apache-2.0
package millrace;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/** A small file system of its own, which can be filled to its last byte. */
public final class SmallDisk implements AutoCloseable {
  private final Path folder;

  private SmallDisk(Path folder) {
    this.folder = folder;
  }

  /** Mounts one; empty where this user may not. */
  public static Optional<SmallDisk> mounted(Path folder) throws IOException {
    Files.createDirectories(folder);
    boolean done = succeeds("mount", "-t", "tmpfs", "-o", "size=12m", "none", folder.toString());
    return done ? Optional.of(new SmallDisk(folder)) : Optional.empty();
  }

  private static boolean succeeds(String... command) {
    try {
      Process process =
          new ProcessBuilder(command)
              .redirectErrorStream(true)
              .redirectOutput(ProcessBuilder.Redirect.DISCARD)
              .start();
      return process.waitFor(30, TimeUnit.SECONDS) && process.exitValue() == 0;
    } catch (IOException e) {
      return false; // no such program here
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }

  public Path folder() {
    return folder;
  }

  /** Leaves no room for anything. */
  public void fill() {
    for (int piece : new int[] {65_536, 1}) {
      try (OutputStream out = Files.newOutputStream(folder.resolve("filler-" + piece))) {
        byte[] bytes = new byte[piece];
        while (true) {
          out.write(bytes);
        }
      } catch (IOException full) {
        // what was wanted
      }
    }
  }

  public void clear() {
    try {
      Files.deleteIfExists(folder.resolve("filler-65536"));
      Files.deleteIfExists(folder.resolve("filler-1"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** May not be written to any more, or may again. */
  public void readOnly(boolean is) {
    String how = is ? "remount,ro" : "remount,rw";
    if (!succeeds("mount", "-o", how, folder.toString())) {
      throw new IllegalStateException("'mount -o " + how + "' failed");
    }
  }

  @Override
  public void close() {
    if (!succeeds("umount", folder.toString()) && !succeeds("umount", "-l", folder.toString())) {
      throw new IllegalStateException("'umount " + folder + "' failed");
    }
  }
}
