package millrace.link;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.time.Duration;
import java.util.Arrays;
import java.util.stream.Collectors;
import millrace.fault.InstrumentException;
import millrace.time.SystemClock;

/**
 * A serial line through jSerialComm. Its time-outs are rounded up to 100 ms and wrap at 25.6 s, so
 * the deadline is held by the monotonic clock around short reads.
 */
final class SerialWire implements Wire {
  private static final int SLICE_MS = 100;

  private final SerialPort port;
  private volatile boolean closed;

  private SerialWire(SerialPort port) {
    this.port = port;
  }

  static SerialWire open(LinkAddress.Serial address) {
    SerialPort port = find(address);
    port.setComPortParameters(
        address.rate(), address.dataBits(), stopBits(address), parity(address));
    port.setFlowControl(flow(address));
    port.setComPortTimeouts(
        SerialPort.TIMEOUT_READ_SEMI_BLOCKING | SerialPort.TIMEOUT_WRITE_BLOCKING, SLICE_MS, 0);
    if (!port.openPort()) {
      throw new InstrumentException(whyClosed(address, port));
    }
    return new SerialWire(port);
  }

  private static SerialPort find(LinkAddress.Serial address) {
    if (address.port().startsWith("usb=")) {
      String wanted = address.port().substring("usb=".length());
      return Arrays.stream(SerialPort.getCommPorts())
          .filter(p -> wanted.equals(p.getSerialNumber()))
          .findFirst()
          .orElseThrow(() -> new InstrumentException(noSuchPort(address)));
    }
    try {
      return SerialPort.getCommPort(address.port());
    } catch (SerialPortInvalidPortException e) {
      throw new InstrumentException(noSuchPort(address), e);
    }
  }

  private static String noSuchPort(LinkAddress.Serial address) {
    String known =
        Arrays.stream(SerialPort.getCommPorts())
            .map(p -> p.getSystemPortPath() + " (" + p.getDescriptivePortName() + ")")
            .collect(Collectors.joining(", "));
    return "%s: there is no such port; this machine has %s. Check the cable and the bench file."
        .formatted(address, known.isEmpty() ? "none" : known);
  }

  private static String whyClosed(LinkAddress.Serial address, SerialPort port) {
    return "%s: the port cannot be opened (system error %d): no permission, or another program holds"
            .formatted(address, port.getLastErrorCode())
        + " it. End the other program, or join the group that owns the port (often 'dialout' or"
        + " 'uucp') and log in again.";
  }

  private static int stopBits(LinkAddress.Serial address) {
    return address.stopBits() == 1 ? SerialPort.ONE_STOP_BIT : SerialPort.TWO_STOP_BITS;
  }

  private static int parity(LinkAddress.Serial address) {
    return switch (address.parity()) {
      case NONE -> SerialPort.NO_PARITY;
      case EVEN -> SerialPort.EVEN_PARITY;
      case ODD -> SerialPort.ODD_PARITY;
    };
  }

  private static int flow(LinkAddress.Serial address) {
    return switch (address.flow()) {
      case NONE -> SerialPort.FLOW_CONTROL_DISABLED;
      case XON_XOFF ->
          SerialPort.FLOW_CONTROL_XONXOFF_IN_ENABLED | SerialPort.FLOW_CONTROL_XONXOFF_OUT_ENABLED;
      case RTS_CTS -> SerialPort.FLOW_CONTROL_RTS_ENABLED | SerialPort.FLOW_CONTROL_CTS_ENABLED;
    };
  }

  @Override
  public void write(byte[] bytes) throws IOException {
    int done = 0;
    while (done < bytes.length) {
      int n = port.writeBytes(bytes, bytes.length - done, done);
      if (n <= 0) {
        throw new IOException("the serial line takes no bytes");
      }
      done += n;
    }
  }

  @Override
  public int read(byte[] buffer, Duration atMost) throws IOException {
    SystemClock.Deadline deadline = SystemClock.deadline(atMost);
    do {
      int n = port.readBytes(buffer, Math.max(1, Math.min(buffer.length, port.bytesAvailable())));
      if (n < 0 || closed) {
        throw new IOException("the serial line is gone");
      }
      if (n > 0) {
        return n;
      }
    } while (!deadline.passed());
    return 0;
  }

  @Override
  public int waiting() throws IOException {
    int n = port.bytesAvailable();
    if (n < 0) {
      throw new IOException("the serial line is gone");
    }
    return n;
  }

  @Override
  public boolean remembersWhenReopened() {
    return true;
  }

  @Override
  public void close() {
    closed = true;
    port.closePort();
  }
}
