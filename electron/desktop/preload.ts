import { contextBridge, ipcRenderer } from 'electron';
import { CHANNELS, HOST_NAME, type Host, TOLD, type Told } from '../../core/bridge/host.ts';

let listener: (told: Told) => void = () => undefined;
ipcRenderer.on(TOLD, (_, told: Told) => {
  listener(told);
});

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
  takeGiven: () => ipcRenderer.invoke(CHANNELS.takeGiven) as ReturnType<Host['takeGiven']>,
  showMenu: state => ipcRenderer.invoke(CHANNELS.showMenu, state) as ReturnType<Host['showMenu']>,
  noteProblem: kind => ipcRenderer.invoke(CHANNELS.noteProblem, kind) as ReturnType<Host['noteProblem']>,
  onTold: given => {
    listener = given;
  },
};
contextBridge.exposeInMainWorld(HOST_NAME, host);
