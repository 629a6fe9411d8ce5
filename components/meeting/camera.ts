/** Why there is no picture. `busy`: it is there and does not open. */
export type CameraFault = 'refused' | 'none' | 'busy'

/** Where pictures come from; another place in tests. */
export interface Camera {
  open(): Promise<MediaStream>
}

/** The camera that looks away from whoever holds the phone, where there are two. Not asked for sound. */
export const rearCamera: Camera = {
  open: () =>
    navigator.mediaDevices.getUserMedia({
      video: { facingMode: 'environment', width: { ideal: 1280 }, height: { ideal: 720 } },
      audio: false,
    }),
}

/** What stopped `open`, by the names of the errors of `getUserMedia` (W3C, Media Capture and Streams, 10.2). */
export const cameraFaultOf = (error: unknown): CameraFault => {
  const name = error instanceof DOMException ? error.name : ''
  if (name === 'NotAllowedError' || name === 'SecurityError') return 'refused'
  if (name === 'NotReadableError' || name === 'AbortError') return 'busy'
  return 'none'
}

export const closeCamera = (stream: MediaStream): void => {
  for (const track of stream.getTracks()) track.stop()
}
