'use strict';
// Who uses the page. On the workshop's own machine nobody has to say so. Elsewhere the link that the workshop gave out
// brings a token; the first drawing spends it, and what it is redeemed for opens that drawing and its plans.
const access = {
  // take keeps the token of the link, and out of the address and the history.
  take() {
    const token = /^#token=(kdt_[\w-]{64})$/.exec(location.hash);
    if (!token) return;
    sessionStorage.setItem('token', token[1]);
    sessionStorage.removeItem('capability');
    history.replaceState(null, '', location.pathname);
  },
  headers() {
    const secret = sessionStorage.getItem('capability') || sessionStorage.getItem('token');
    return secret ? { Authorization: 'Bearer ' + secret } : {};
  },
  // sending are the headers of a drawing. Sent again after the connection was lost, the same file is answered the same.
  sending(file) {
    const token = sessionStorage.getItem('token');
    return token && { Authorization: 'Bearer ' + token, 'Idempotency-Key': 'drawing-' + file.size + '-' + file.lastModified };
  },
  note(answer) {
    const capability = answer.headers.get('Submission-Capability');
    if (capability) sessionStorage.setItem('capability', capability);
  },
  // save fetches a file and gives it to the browser to keep, since one sends no token along with a link. It returns under which
  // name, that of the service if there is none of ours, and fails with what can be told.
  async save(path, name) {
    const r = await fetch(path, { headers: access.headers() }).catch(() => { throw new Error('The workshop service does not answer.'); });
    if (!r.ok) throw new Error((await r.json()).detail);
    const own = /filename="?([^";]+)/.exec(r.headers.get('Content-Disposition') || '');
    const link = make('a', { href: URL.createObjectURL(await r.blob()), download: name || (own ? own[1] : path.split('/').pop().split('?')[0]) });
    link.click();
    URL.revokeObjectURL(link.href);
    return link.download;
  },
};
access.take();
addEventListener('hashchange', access.take);
