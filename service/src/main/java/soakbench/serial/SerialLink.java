package soakbench.serial;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.nio.file.Path;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.host.FaultLog;

/**
 * Keeps one serial port open and reads it, on a thread of its own. Where the port can't be opened
 * or goes away, it's tried again each second until it's there, at whatever path it then has. After
 * each opening the first line may lack its beginning.
 */
public final class SerialLink implements AutoCloseable {

  /** Receives the events of one port; called on the link's own thread. */
  public interface Listener {
    /** The port is open; bytes follow. */
    void opened();

    /** Bytes that came in. The array is the caller's: it's reused after the call. */
    void bytes(byte[] buffer, int length);

    /** The port was open and went away. It's looked for from now on. */
    void lost(String reason);

    /** The port can't be opened; reported once for each reason. It's tried again. */
    void cannotOpen(String reason);
  }

  /**
   * Which port, and how.
   *
   * @param name what the port is called in logs
   * @param path its path now; asked before each opening, on the link's own thread
   * @param baud bits per second to begin with
   * @param resetOnOpen whether opening may reset the tracker (by DTR and RTS)
   */
  public record Port(String name, Supplier<PortPath> path, int baud, boolean resetOnOpen) {

    /** A port that is always at this device file; a symbolic link is followed at each opening. */
    public Port(String path, int baud, boolean resetOnOpen) {
      this(path, () -> PortPath.at(path), baud, resetOnOpen);
    }
  }

  private static final Logger LOG = LoggerFactory.getLogger(SerialLink.class);
  private static final int READ_TIMEOUT_MS = 500;
  private static final int ENDING_MS = 200;
  private static final int RETRY_MS = 1000;
  private static final int BUFFER_SIZE = 8192;

  private final Port port;
  private final Listener listener;
  private final Thread thread;
  private final FaultLog faults;
  private final CountDownLatch stopping = new CountDownLatch(1);
  private String reportedReason;
  private String openPath = "";
  private volatile int baud;
  private volatile SerialPort opened;

  public SerialLink(Port port, Listener listener) {
    this.port = port;
    this.listener = listener;
    this.baud = port.baud();
    this.thread = Daemons.thread("port " + port.name(), this::run);
    this.faults = new FaultLog(LOG, "reading port " + port.name());
  }

  public void start() {
    thread.start();
  }

  /**
   * Reads at this rate from now on; what was received at the old one is thrown away. For the
   * listener, on the link's own thread.
   *
   * @param bitsPerS bits per second
   */
  public void setBaud(int bitsPerS) {
    baud = bitsPerS;
    SerialPort now = opened;
    if (now != null) {
      now.setBaudRate(bitsPerS);
      now.flushIOBuffers();
    }
  }

  /** Bits per second that it is, or will be, read at. */
  public int baud() {
    return baud;
  }

  /**
   * Sends bytes to the device, from another thread than the link's: it may wait for as long as the
   * device takes nothing, until the port is closed.
   *
   * @throws IOException if the port isn't open, or closed meanwhile
   */
  public void write(byte[] bytes) throws IOException {
    SerialPort now = opened;
    if (now == null) {
      throw new IOException("the port is not open");
    }
    int written = now.writeBytes(bytes, bytes.length);
    if (written != bytes.length) {
      throw new IOException(
          "of " + bytes.length + " bytes " + Math.max(0, written) + " were taken");
    }
  }

  /** Asks it to stop, without waiting. */
  public void stop() {
    stopping.countDown();
  }

  /** Stops it and waits until the port is closed and the listener has returned. */
  @Override
  public void close() {
    stop();
    Daemons.join(thread);
  }

  private void run() {
    try {
      while (!isStopping()) {
        openAndRead();
        stopping.await(RETRY_MS, TimeUnit.MILLISECONDS);
      }
    } catch (InterruptedException e) {
      LOG.warn("{}: reading was interrupted and has stopped", thread.getName());
    } catch (LinkageError e) {
      notifyListener(() -> listener.cannotOpen(new SerialUnavailableException(e).getMessage()));
    }
  }

  private void openAndRead() throws InterruptedException {
    try {
      SerialPort open = open();
      if (open != null) {
        readUntilLost(open);
      }
    } catch (RuntimeException e) {
      faults.add(e);
      notifyListener(
          () -> listener.lost("port " + openPath + " failed by a fault of this program: " + e));
    }
  }

  /** A fault of the listener must not end reading. */
  private void notifyListener(Runnable call) {
    try {
      call.run();
    } catch (RuntimeException e) {
      faults.add(e);
    }
  }

  private boolean isStopping() {
    return stopping.getCount() == 0;
  }

  /** A new object each time: the library follows a symbolic link only when it makes one. */
  private SerialPort open() {
    PortPath now = port.path().get();
    if (now.path().isEmpty()) {
      reportOnce(now.reason());
      return null;
    }
    openPath = now.path();
    Path path = Path.of(openPath);
    SerialPort serial;
    try {
      serial = SerialPort.getCommPort(openPath);
    } catch (SerialPortInvalidPortException e) {
      reportOnce(PortProblem.opening(path, PortProblem.ENOENT));
      return null;
    }
    prepare(serial);
    if (!serial.openPort()) {
      reportOnce(PortProblem.opening(path, serial.getLastErrorCode()));
      return null;
    }
    reportedReason = null;
    return serial;
  }

  private void prepare(SerialPort serial) {
    serial.setBaudRate(baud);
    serial.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, READ_TIMEOUT_MS, 0);
    if (!port.resetOnOpen()) {
      serial.clearDTR();
      serial.clearRTS();
    }
    // What the kernel kept from before would get a fresh time of arrival.
    serial.flushIOBuffers();
  }

  private void reportOnce(String reason) {
    if (!reason.equals(reportedReason)) {
      reportedReason = reason;
      notifyListener(() -> listener.cannotOpen(reason));
    }
  }

  private void readUntilLost(SerialPort serial) throws InterruptedException {
    byte[] buffer = new byte[BUFFER_SIZE];
    opened = serial;
    try {
      notifyListener(listener::opened);
      while (!isStopping()) {
        int length = serial.readBytes(buffer, buffer.length);
        if (length < 0) {
          // The library closes all ports when the program ends; that is no port that went away.
          if (stopping.await(ENDING_MS, TimeUnit.MILLISECONDS)) {
            return;
          }
          notifyListener(
              () -> listener.lost("port " + openPath + " went away; looking for it each second"));
          return;
        }
        if (length > 0) {
          notifyListener(() -> listener.bytes(buffer, length));
        }
      }
    } finally {
      opened = null;
      serial.closePort();
    }
  }
}
