/** Hand to a phone: the code, who is on it, a new key, the end. */
import { useEffect, useState } from "react";

import { api } from "../api";
import type { Share as Sharing } from "../sent";
import { MODULE, pathOf } from "./qr";
import { usePage } from "../state";
import { wordsOf } from "./parts";

function Code({ modules }: { modules: boolean[][] }) {
  const { side, path } = pathOf(modules);
  const size = side * MODULE;
  return (
    <svg
      className="qr"
      width={size}
      height={size}
      viewBox={`0 0 ${side} ${side}`}
      shapeRendering="crispEdges"
      role="img"
      aria-label="Code to scan with the phone"
    >
      <path className="qr-field" d={`M0 0h${side}v${side}h${-side}z`} />
      <path className="qr-ink" d={path} />
    </svg>
  );
}

export function Share() {
  const [share, setShare] = useState<Sharing | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  // In red light the field of the code is the brightest thing on the sheet: it is shown when it is asked for.
  const night = usePage((state) => state.night);
  const [bright, setBright] = useState(false);
  const take = (call: Promise<Sharing>) =>
    call.then(
      (answer) => {
        setShare(answer);
        setFault(null);
      },
      (why: unknown) => setFault(wordsOf(why)),
    );
  useEffect(() => {
    void take(api.share());
    // Who is on it changes by what the phones do, of which nothing tells this page.
    const timer = setInterval(() => {
      if (document.visibilityState === "visible") {
        void take(api.share());
      }
    }, 5000);
    return () => clearInterval(timer);
  }, []);
  return (
    <section className="share" aria-labelledby="share">
      <h2 id="share">Hand to a phone</h2>
      {fault !== null && <p className="fault">{fault}</p>}
      {share === null ? null : !share.on ? (
        <p>Sharing is off. Stop Hosewright and start it with --share.</p>
      ) : (
        <>
          <div className="share-body">
            {share.qr !== null && (!night || bright) && <Code modules={share.qr} />}
            <div>
              <p>Scan this on the boat’s network.</p>
              {share.address !== null && <p className="share-address">{share.address}</p>}
              <p>The key is in the code only.</p>
              {night && (
                <p className="keys">
                  <button type="button" aria-pressed={bright} onClick={() => setBright(!bright)}>
                    {bright ? "Put the code away" : "Show the code, bright"}
                  </button>
                </p>
              )}
              <h3>On it now</h3>
              {share.devices.length === 0 ? (
                <p>nobody</p>
              ) : (
                <table>
                  <tbody>
                    {share.devices.map((device) => (
                      <tr key={device.name}>
                        <th scope="row">{device.name}</th>
                        <td>{device.at}</td>
                        <td>{device.kept > 0 ? `${device.kept} kept` : ""}</td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              )}
            </div>
          </div>
          <p>
            This link is not encrypted: use it only on a network you trust. The key dies when
            Hosewright stops.
          </p>
          <p className="keys">
            <button type="button" onClick={() => void take(api.newKey())}>
              New key, drop the old
            </button>
            <button type="button" onClick={() => void take(api.endSharing())}>
              End sharing
            </button>
          </p>
        </>
      )}
    </section>
  );
}
