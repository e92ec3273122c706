#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""A store of objects for tests: what of S3 the program uses, in memory, on a free port of this machine. Every request has
to be signed; the signature is worked out anew by botocore, which is none of ours. Prints one line, its endpoint, and ends
when its standard input is closed.

    tests/objects.py --bucket NAME --key ID --secret SECRET [--page 3] [--trouble 5]

--page N     lists at most N objects at a time, so that reading on is tried
--trouble N  answers every Nth request with 503, as a busy store does"""
import argparse
import datetime
import hashlib
import re
import sys
import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import parse_qs, unquote, urlsplit
from xml.sax.saxutils import escape

from botocore.auth import S3SigV4Auth
from botocore.awsrequest import AWSRequest
from botocore.credentials import Credentials

ALGORITHM = re.compile(r"AWS4-HMAC-SHA256 Credential=([^/]+)/(\d{8})/([^/]+)/s3/aws4_request, ?SignedHeaders=([^,]+), ?"
                       r"Signature=([0-9a-f]{64})$")
MOST_SKEW = datetime.timedelta(minutes=15)


def signature_of(handler, secret, key, region, names):
    headers = {name: handler.headers[name] for name in names}
    request = AWSRequest(method=handler.command, url=f"http://{handler.headers['host']}{handler.path}", headers=headers)
    request.context["timestamp"] = handler.headers["x-amz-date"]
    auth = S3SigV4Auth(Credentials(key, secret), "s3", region)
    return auth.signature(auth.string_to_sign(request, auth.canonical_request(request)), request)


class Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    asked = None
    objects = {}  # key: (bytes, moment)
    lock = threading.Lock()
    served = 0

    def log_message(self, *_):
        pass

    def answer(self, status, body=b"", kind="application/xml"):
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)

    def refusal(self, body):
        """Why this request is not let in; None: it is."""
        found = ALGORITHM.match(self.headers.get("Authorization", ""))
        if not found:
            return "there is no signature"
        key, day, region, names, signature = found.groups()
        if key != self.asked.key or region != self.asked.region:
            return "unknown key or region"
        names = names.split(";")
        if not {"host", "x-amz-date", "x-amz-content-sha256"} <= set(names):
            return "too little is signed"
        if self.headers["x-amz-content-sha256"] != hashlib.sha256(body).hexdigest():
            return "the body is not what was signed"
        moment = datetime.datetime.strptime(self.headers["x-amz-date"], "%Y%m%dT%H%M%SZ")
        if abs(datetime.datetime.utcnow() - moment) > MOST_SKEW or not self.headers["x-amz-date"].startswith(day):
            return "the moment is not now"
        if signature_of(self, self.asked.secret, key, region, names) != signature:
            return "the signature is wrong"
        return None

    def serve(self):
        body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
        with Handler.lock:
            Handler.served += 1
            if self.asked.trouble and Handler.served % self.asked.trouble == 0:
                return self.answer(503, b"<Error><Code>SlowDown</Code></Error>")
            why = self.refusal(body)
            if why:
                return self.answer(403, f"<Error><Message>{escape(why)}</Message></Error>".encode())
            address = urlsplit(self.path)
            bucket, _, key = unquote(address.path).lstrip("/").partition("/")
            if bucket != self.asked.bucket:
                return self.answer(404)
            if self.command == "GET" and not key:
                return self.answer(200, self.listed(parse_qs(address.query)))
            return self.object(key, body)

    do_GET = do_PUT = do_HEAD = do_DELETE = serve

    def object(self, key, body):
        if self.command == "PUT":
            self.objects[key] = (body, datetime.datetime.utcnow())
            return self.answer(200)
        if self.command == "DELETE":
            self.objects.pop(key, None)
            return self.answer(204)
        if key not in self.objects:
            return self.answer(404, b"<Error><Code>NoSuchKey</Code></Error>")
        return self.answer(200, self.objects[key][0], "application/octet-stream")

    def listed(self, query):
        prefix, after = query.get("prefix", [""])[0], query.get("continuation-token", [""])[0]
        most = min(self.asked.page, int(query.get("max-keys", [self.asked.page])[0]))
        keys = sorted(key for key in self.objects if key.startswith(prefix) and key > after)
        out = "".join(f"<Contents><Key>{escape(key)}</Key><LastModified>"
                      f"{self.objects[key][1].strftime('%Y-%m-%dT%H:%M:%S.000Z')}</LastModified></Contents>"
                      for key in keys[:most])
        more = len(keys) > most
        token = f"<NextContinuationToken>{escape(keys[most - 1])}</NextContinuationToken>" if more else ""
        return (f'<?xml version="1.0" encoding="UTF-8"?><ListBucketResult><IsTruncated>{str(more).lower()}</IsTruncated>'
                f"{token}{out}</ListBucketResult>").encode()


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--bucket", required=True)
    options.add_argument("--key", required=True)
    options.add_argument("--secret", required=True)
    options.add_argument("--region", default="us-east-1")
    options.add_argument("--page", type=int, default=1000)
    options.add_argument("--trouble", type=int, default=0)
    options.add_argument("--host", default="127.0.0.1")
    Handler.asked = options.parse_args()
    server = ThreadingHTTPServer((Handler.asked.host, 0), Handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    print(f"http://{Handler.asked.host}:{server.server_address[1]}", flush=True)
    while sys.stdin.buffer.read(4096):
        pass


if __name__ == "__main__":
    main()
