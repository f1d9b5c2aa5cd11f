package soakbench.live.memory;

import soakbench.live.SoakStore;
import soakbench.live.SoakStoreContract;

class MemoryStoreTest extends SoakStoreContract {
  private final MemoryStore store = new MemoryStore();

  @Override
  public SoakStore store() {
    return store;
  }
}
