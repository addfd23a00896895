// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import millrace.document.FileMessageText;
import millrace.fault.OutputException;
import org.jspecify.annotations.Nullable;

/**
 * Numbers in groups: some in memory, those of a long file in a temporary one. Single-threaded;
 * close it.
 */
final class GroupedHashes implements AutoCloseable {
  /** Numbers that are written together. */
  private static final int PIECE = 1024;

  /** Pieces that stay in memory: 4 MiB. */
  private static final int IN_MEMORY = 512;

  private final List<Group> groups = new ArrayList<>();
  private int inMemory;
  private @Nullable FileChannel file;

  /** The numbers of a group: full pieces here, full pieces in the file, and those behind. */
  private static final class Group {
    private final List<long[]> held = new ArrayList<>();
    private final List<Long> places = new ArrayList<>();
    private final long[] last = new long[PIECE];
    private int count;
  }

  GroupedHashes(int groups) {
    for (int i = 0; i < groups; i++) {
      this.groups.add(new Group());
    }
  }

  void add(int group, long number) {
    Group to = groups.get(group);
    to.last[to.count++] = number;
    if (to.count == PIECE) {
      keep(to);
      to.count = 0;
    }
  }

  private void keep(Group full) {
    if (inMemory < IN_MEMORY) {
      inMemory++;
      full.held.add(full.last.clone());
      return;
    }
    try {
      FileChannel out = file();
      full.places.add(out.size());
      ByteBuffer bytes = ByteBuffer.allocate(PIECE * Long.BYTES);
      bytes.asLongBuffer().put(full.last);
      out.position(out.size());
      while (bytes.hasRemaining()) {
        out.write(bytes);
      }
    } catch (IOException e) {
      throw trouble(e);
    }
  }

  private FileChannel file() throws IOException {
    FileChannel known = file;
    if (known == null) {
      Path path = Files.createTempFile("millrace-rows-", ".tmp");
      known =
          FileChannel.open(
              path,
              StandardOpenOption.READ,
              StandardOpenOption.WRITE,
              StandardOpenOption.DELETE_ON_CLOSE);
      file = known;
    }
    return known;
  }

  boolean isEmpty() {
    return groups.stream().allMatch(g -> g.count == 0 && g.held.isEmpty() && g.places.isEmpty());
  }

  /** All numbers of a group, in no order. */
  long[] group(int number) {
    Group group = groups.get(number);
    int pieces = group.held.size() + group.places.size();
    long[] all = new long[pieces * PIECE + group.count];
    int at = 0;
    for (long[] piece : group.held) {
      System.arraycopy(piece, 0, all, at, PIECE);
      at += PIECE;
    }
    for (long place : group.places) {
      read(place, all, at);
      at += PIECE;
    }
    System.arraycopy(group.last, 0, all, at, group.count);
    return all;
  }

  private void read(long place, long[] into, int at) {
    try {
      ByteBuffer bytes = ByteBuffer.allocate(PIECE * Long.BYTES);
      while (bytes.hasRemaining()) {
        if (file().read(bytes, place + bytes.position()) < 0) {
          throw new IOException("it is shorter than it was");
        }
      }
      bytes.flip().asLongBuffer().get(into, at, PIECE);
    } catch (IOException e) {
      throw trouble(e);
    }
  }

  private static OutputException trouble(IOException e) {
    return new OutputException(
        "a temporary file of the import cannot be used: %s. Nothing was imported. Check that the folder '%s' has room, 8 bytes a reading."
            .formatted(FileMessageText.reason(e), System.getProperty("java.io.tmpdir")),
        e);
  }

  @Override
  public void close() {
    try {
      if (file != null) {
        file.close();
      }
    } catch (IOException e) {
      throw trouble(e);
    }
  }
}
