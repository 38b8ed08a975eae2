import { contextBridge, ipcRenderer } from 'electron';
import { CHANNELS, HOST_NAME, type Host } from '../../core/bridge/host.ts';

// Only these verbs cross; the renderer never sees ipcRenderer itself.
const host: Host = {
  where: () => ipcRenderer.invoke(CHANNELS.where) as ReturnType<Host['where']>,
  list: path => ipcRenderer.invoke(CHANNELS.list, path) as ReturnType<Host['list']>,
  read: path => ipcRenderer.invoke(CHANNELS.read, path) as ReturnType<Host['read']>,
  writeNew: (path, bytes) =>
    ipcRenderer.invoke(CHANNELS.writeNew, path, bytes) as ReturnType<Host['writeNew']>,
  tidy: () => ipcRenderer.invoke(CHANNELS.tidy) as ReturnType<Host['tidy']>,
  dropDraft: path => ipcRenderer.invoke(CHANNELS.dropDraft, path) as ReturnType<Host['dropDraft']>,
  chooseFolder: () => ipcRenderer.invoke(CHANNELS.chooseFolder) as ReturnType<Host['chooseFolder']>,
};
contextBridge.exposeInMainWorld(HOST_NAME, host);
