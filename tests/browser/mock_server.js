#!/usr/bin/env node
// Stands in for the command where that has no `serve`:
//   mock_server.js job new FILE NETLIST
//   mock_server.js serve FILE --port PORT
import { createServer } from 'node:http';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { extname } from 'node:path';
import { Job, Refusal } from './mock_job.js';

const page = new URL('../../src/serve/page/', import.meta.url);
const types = { '.html': 'text/html', '.css': 'text/css', '.js': 'text/javascript', '.svg': 'image/svg+xml' };
const policy =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

function picture(point) {
  const boxes = [
    [point, 'proven'],
    ['wire', 'suspect'],
    ['terminal', 'unproven'],
  ].map(
    ([words, state], at) =>
      `<g class="${state}">` +
      `<rect x="${10 + at * 170}" y="20" width="150" height="50" fill="none" stroke="currentColor"/>` +
      `<text x="${20 + at * 170}" y="50" fill="currentColor">${words}: ${state}</text></g>`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="530" height="90" font-size="14"><title>Path of ${point}</title>${boxes.join('')}</svg>`;
}

async function bodyOf(request) {
  const pieces = [];
  for await (const piece of request) pieces.push(piece);
  return JSON.parse(Buffer.concat(pieces).toString());
}

function serve(file, port) {
  const job = new Job(file);
  const streams = new Set();

  const event = () => `event: state\nid: ${job.version}\ndata: ${JSON.stringify(job.state())}\n\n`;
  let timer = null;
  const changed = () => {
    timer ??= setTimeout(() => {
      timer = null;
      for (const stream of streams) stream.write(event());
    }, 100);
  };

  function json(response, status, content) {
    response.writeHead(status, { 'Content-Type': 'application/json', 'Cache-Control': 'no-store' });
    response.end(JSON.stringify(content));
  }

  function asset(response, name) {
    const at = new URL(name, page);
    if (!/^[\w.]+$/.test(name) || !existsSync(at))
      return json(response, 404, { error: { text: `No ${name} here.` } });
    response.writeHead(200, {
      'Content-Type': types[extname(name)],
      'Content-Security-Policy': policy,
      'X-Content-Type-Options': 'nosniff',
    });
    return response.end(readFileSync(at));
  }

  const answers = {
    state: () => job.state(),
    search: (query) => ({ matches: job.panel.search(query.get('q')) }),
    channels: () => ({ channels: job.channels() }),
    readings: (query) => ({
      readings: job.readings
        .slice(-Number(query.get('newest') ?? 50))
        .reverse()
        .map((row) => job.row(row)),
    }),
  };

  const server = createServer(async (request, response) => {
    const address = new URL(request.url, 'http://mock');
    const name = address.pathname.slice(1);
    try {
      if (request.method === 'POST') {
        const { status, answer } = job.post(name, await bodyOf(request));
        if (status === 201) changed();
        return json(response, status, answer);
      }
      if (name === 'stream') {
        response.writeHead(200, { 'Content-Type': 'text/event-stream', 'Cache-Control': 'no-store' });
        response.write(event());
        streams.add(response);
        return request.on('close', () => streams.delete(response));
      }
      if (name === 'path') {
        response.writeHead(200, { 'Content-Type': 'image/svg+xml' });
        return response.end(picture(address.searchParams.get('channel')));
      }
      return Object.hasOwn(answers, name)
        ? json(response, 200, answers[name](address.searchParams))
        : asset(response, name || 'page.html');
    } catch (error) {
      if (error instanceof Refusal) return json(response, error.status, { error: error.error });
      return json(response, 500, { error: { text: String(error) } });
    }
  });
  setInterval(() => streams.forEach((stream) => stream.write(': alive\n\n')), 10_000);
  server.listen(port, '127.0.0.1', () =>
    console.log(`Bench page at http://127.0.0.1:${server.address().port}/`),
  );
}

const [verb, ...rest] = process.argv.slice(2);
if (verb === 'job') writeFileSync(rest[1], `${JSON.stringify({ netlist: rest[2] })}\n`, { flag: 'wx' });
else serve(rest[0], Number(rest[rest.indexOf('--port') + 1]));
