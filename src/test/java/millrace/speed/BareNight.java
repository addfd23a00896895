// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import java.io.BufferedInputStream;
import java.io.DataInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;

/**
 * The least that a night takes: what was said goes over a socket to a thread that answers as was
 * answered, and readings are committed as often as they were.
 */
final class BareNight {
  private BareNight() {}

  /** One round trip. */
  private record Trip(byte[] sent, byte[] received) {}

  /** Takes the file of what was said, and that of a database to be made. */
  public static void main(String[] args) throws Exception {
    int readings;
    int commits;
    List<Trip> trips = new ArrayList<>();
    try (DataInputStream in =
        new DataInputStream(new BufferedInputStream(Files.newInputStream(Path.of(args[0]))))) {
      readings = in.readInt();
      commits = in.readInt();
      for (int left = in.readInt(); left > 0; left--) {
        trips.add(new Trip(bytes(in.readUTF()), bytes(in.readUTF())));
      }
    }
    try (ServerSocket server = new ServerSocket(0, 1, InetAddress.getLoopbackAddress());
        Socket near = new Socket(server.getInetAddress(), server.getLocalPort());
        Connection book = DriverManager.getConnection("jdbc:sqlite:" + args[1])) {
      Thread far = new Thread(() -> answer(server, trips), "far end");
      far.start();
      near.setTcpNoDelay(true);
      said(trips, near, book, readings, commits);
      far.join();
    }
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.ISO_8859_1);
  }

  private static void answer(ServerSocket server, List<Trip> trips) {
    try (Socket far = server.accept()) {
      far.setTcpNoDelay(true);
      InputStream in = far.getInputStream();
      OutputStream out = far.getOutputStream();
      for (Trip trip : trips) {
        in.readNBytes(trip.sent().length);
        out.write(trip.received());
      }
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  private static void said(
      List<Trip> trips, Socket near, Connection book, int readings, int commits)
      throws IOException, SQLException {
    try (Statement made = book.createStatement()) {
      made.execute("PRAGMA journal_mode = WAL");
      made.execute("PRAGMA synchronous = FULL");
      made.execute(
          "CREATE TABLE reading (number INTEGER PRIMARY KEY, commits INTEGER, value REAL, raw TEXT,"
              + " elapsed INTEGER)");
    }
    book.setAutoCommit(false);
    try (PreparedStatement row =
        book.prepareStatement("INSERT INTO reading VALUES (?, ?, ?, ?, ?)")) {
      int written = 0;
      int done = 0;
      for (int i = 0; i < trips.size(); i++) {
        near.getOutputStream().write(trips.get(i).sent());
        byte[] reply = near.getInputStream().readNBytes(trips.get(i).received().length);
        int due = (int) ((i + 1L) * commits / trips.size());
        if (due > done) {
          done = due;
          int upTo = (int) ((long) readings * done / commits);
          while (written < upTo) {
            row(row, written++, done, reply);
          }
          row.executeBatch();
          book.commit();
        }
      }
    }
  }

  private static void row(PreparedStatement row, int number, int commit, byte[] reply)
      throws SQLException {
    row.setInt(1, number);
    row.setInt(2, commit);
    row.setDouble(3, reply.length);
    row.setString(4, new String(reply, StandardCharsets.ISO_8859_1));
    row.setLong(5, number);
    row.addBatch();
  }
}
